/**
 * An agreement that is written as YAML, as the one built into a clinic's own copy is: read when the site is built, held
 * to the same rules as a file from anywhere, and refused with the same words. A file exported from the site is YAML too.
 */
import { LineCounter, type Node, parseDocument } from 'yaml';
import { type Agreement, limits } from '../../calculators/agreement/agreement.ts';
import type { Published } from '../../calculators/agreement/local-criteria.ts';
import { checkAgreement, problemWords } from '../../calculators/agreement/read-agreement.ts';
import { type Path, pathWords } from '../../calculators/exchange/located-json.ts';

/**
 * @param name  of the file, for messages
 * @throws with every reason why it is no agreement of this handbook, each with file, field and line
 */
export function agreementFromYaml(
  name: string,
  text: string,
  published: Published,
): { agreement: Agreement; warnings: string[] } {
  const refuse = (problems: { path: string; line?: number | undefined; message: string }[]): never => {
    throw new Error(problems.map((problem) => problemWords(name, problem)).join('\n'));
  };
  if (text.length > limits.file)
    refuse([{ path: '', message: `expected at most ${limits.file} characters, found ${text.length}` }]);
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  if (document.errors.length > 0)
    refuse(
      document.errors.map(({ pos, message }) => ({
        path: '',
        line: lines.linePos(pos[0]).line,
        message: `this is not YAML: ${message}`,
      })),
    );
  const checked = checkAgreement(document.toJS(), published);
  if (checked.ok) return checked;

  /** A missing field has no line of its own: that of what it is missing from. */
  const lineOf = (at: Path): number | undefined => {
    for (let length = at.length; length > 0; length -= 1) {
      const node = document.getIn(at.slice(0, length), true) as Node | undefined;
      if (node?.range) return lines.linePos(node.range[0]).line;
    }
    return undefined;
  };
  return refuse(
    checked.problems.map(({ at, message }) => ({
      path: pathWords(at),
      line: lineOf(at),
      // YAML takes digits for a number where a reader sees a phone number or a name.
      message:
        /^expected (some text|a phone number)/.test(message) && typeof document.getIn(at) === 'number'
          ? `${message}: put it in quotation marks`
          : message,
    })),
  );
}
