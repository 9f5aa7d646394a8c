/** The registers as files: JSON, CSV, and the schema that they fit. */
import pkg from '../../../../package.json' with { type: 'json' };
import { criteria, evidenceDate, measures, evidence as published, sources } from '../../../evidence/evidence.ts';
import { registerCsv, registerJson, registerNames, registersSchema, rowsOf } from '../../../registers/registers.ts';

const edition = { version: pkg.version, evidence: evidenceDate };
const evidence = { criteria, measures, sources, decisionOf: published.decisionOf };

const files: Record<string, () => string> = {
  'registers.schema.json': () => `${JSON.stringify(registersSchema(edition), null, 1)}\n`,
  ...Object.fromEntries(
    registerNames.flatMap((name) => [
      [`${name}.json`, () => registerJson(name, rowsOf(name, evidence), edition)],
      [`${name}.csv`, () => registerCsv(rowsOf(name, evidence))],
    ]),
  ),
};

export const getStaticPaths = () => Object.keys(files).map((file) => ({ params: { file } }));
export const GET = ({ params }: { params: { file: string } }) => new Response(files[params.file]?.() ?? '');
