/**
 * The one gate through which content/ enters the site: every file is checked by the schemas that live beside the code
 * relying on them, in calculators/domain/ and calculators/learning/. A file that does not fit stops the build with its name, the field and
 * the reason.
 */

import { defineCollection } from 'astro:content';
import { readFileSync } from 'node:fs';
import { basename, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { file, glob, type Loader } from 'astro/loaders';
import { z as zod } from 'astro/zod';
import { parse } from 'yaml';
import { Criterion } from '../calculators/domain/criterion.ts';
import { Decision } from '../calculators/domain/decision.ts';
import { Disagreement } from '../calculators/domain/disagreement.ts';
import { Fact } from '../calculators/domain/fact.ts';
import { Measure } from '../calculators/domain/measure.ts';
import { Source } from '../calculators/domain/source.ts';
import { VisitSheetContent } from '../calculators/domain/visit-sheet.ts';
import { Case } from '../calculators/learning/case.ts';
import { Competency } from '../calculators/learning/competency.ts';
import { Term } from '../calculators/learning/glossary.ts';
import { Question } from '../calculators/learning/question.ts';
import { CalculationWords } from '../calculators/query/calculation-words.ts';
import { contentFiles } from './build/content-files.ts';
import { emergencyKinds } from './safety/emergency.ts';

/** Many rows a file: `content/criteria/<source>.yaml` is a list. */
const rows = (pattern: string): Loader => ({
  name: 'rows',
  load: async ({ store, parseData, watcher, config }) => {
    const root = fileURLToPath(new URL('.', config.root));
    const load = async () => {
      store.clear();
      for (const name of contentFiles(pattern, root))
        for (const data of parse(readFileSync(root + name, 'utf8')) as { id: string }[]) {
          if (store.has(data.id)) throw new Error(`${name}: "${data.id}" is already used by another row`);
          store.set({ id: data.id, data: await parseData({ id: data.id, data, filePath: name }), filePath: name });
        }
    };
    await load();
    watcher?.on('change', (changed) => {
      if (changed.includes(pattern.slice(0, pattern.indexOf('*')))) void load();
    });
  },
});

/** A document a file, named as the file: teaching cases. */
const documents = (pattern: string): Loader => ({
  name: 'documents',
  load: async ({ store, parseData, config }) => {
    const root = fileURLToPath(new URL('.', config.root));
    store.clear();
    for (const name of contentFiles(pattern, root)) {
      const id = name.replace(/^.*\/|\.yaml$/g, '');
      const data = await parseData({ id, data: parse(readFileSync(root + name, 'utf8')), filePath: name });
      store.set({ id, data, filePath: name });
    }
  },
});

/** The ids of a file as they are written: a collection gives its entries in the order of their ids, and the visit sheet asks in this one. */
const order: Loader = {
  name: 'order',
  load: async ({ store, config, watcher }) => {
    const root = fileURLToPath(new URL('.', config.root));
    const load = () => {
      const measures = Object.keys(parse(readFileSync(`${root}content/measures.yaml`, 'utf8')) as object);
      store.clear();
      store.set({ id: 'order', data: { measures } });
    };
    load();
    watcher?.on('change', (changed) => {
      if (changed.endsWith('measures.yaml')) load();
    });
  },
};

/**
 * Agreements as they are written. `src/agreement/built-in.ts` reads them: unlike other content they may be anybody's, and are held
 * against the whole handbook at once. TIDEMARK_AGREEMENT names another file to build in than content/agreement/clinic.yaml,
 * or says 'none'.
 */
const agreements: Loader = {
  name: 'agreements',
  load: async ({ store, config }) => {
    const root = fileURLToPath(new URL('.', config.root));
    store.clear();
    const asked = process.env.TIDEMARK_AGREEMENT;
    const written = contentFiles('content/agreement/*.yaml', root);
    const files = new Map(written.map((name) => [basename(name, '.yaml'), name]));
    if (asked === 'none') files.delete('clinic');
    else if (asked) files.set('clinic', asked);
    for (const [id, name] of files) store.set({ id, data: { name, text: readFileSync(resolve(root, name), 'utf8') } });
  },
};

/** The words that the search understands, as they are written: `src/vocabulary.ts` reads all files as one. */
const wordTexts: Loader = {
  name: 'words',
  load: async ({ store, watcher, config }) => {
    const root = fileURLToPath(new URL('.', config.root));
    const load = () => {
      store.clear();
      for (const name of contentFiles('content/words/*.yaml', root))
        store.set({ id: basename(name, '.yaml'), data: { text: readFileSync(root + name, 'utf8') } });
    };
    load();
    watcher?.on('change', (changed) => {
      if (changed.includes('content/words/')) load();
    });
  },
};

const handbook = defineCollection({
  loader: glob({ base: './content/handbook', pattern: '**/*.mdx' }),
  schema: zod.object({
    title: zod.string(),
    /** the answer, first: what a reader takes away without scrolling */
    answer: zod.string(),
    for: zod.string(),
    reviewed: zod.coerce.date(),
    synonyms: zod.array(zod.coerce.string()).default([]),
    emergency: zod.enum(emergencyKinds),
    decision: zod.string().optional(),
    measure: zod.string().optional(),
    disease: zod.string().optional(),
    sources: zod.array(zod.string()).min(1),
    calculators: zod.array(zod.string()).default([]),
    related: zod.array(zod.string()).default([]),
    order: zod.number().default(100),
    /** a lesson of the path: its place, how long it takes, and the competencies it covers (content/competencies.yaml) */
    lesson: zod.number().int().min(1).optional(),
    minutes: zod.number().optional(),
    covers: zod.array(zod.string()).default([]),
    /** a lesson: what its teacher can talk about with a student afterwards */
    discuss: zod.array(zod.string()).default([]),
  }),
});

export const collections = {
  handbook,
  agreement: defineCollection({
    loader: agreements,
    schema: zod.object({ name: zod.string(), text: zod.string() }),
  }),
  words: defineCollection({ loader: wordTexts, schema: zod.object({ text: zod.string() }) }),
  criteria: defineCollection({ loader: rows('content/criteria/*.yaml'), schema: Criterion as never }),
  measures: defineCollection({ loader: file('content/measures.yaml'), schema: Measure as never }),
  calculations: defineCollection({
    loader: file('content/calculations.yaml'),
    schema: CalculationWords as never,
  }),
  order: defineCollection({ loader: order, schema: zod.object({ measures: zod.array(zod.string()) }) }),
  sheet: defineCollection({ loader: documents('content/visit-sheet.yaml'), schema: VisitSheetContent as never }),
  decisions: defineCollection({ loader: file('content/decisions.yaml'), schema: Decision as never }),
  sources: defineCollection({ loader: file('content/sources.yaml'), schema: Source as never }),
  facts: defineCollection({ loader: file('content/facts.yaml'), schema: Fact as never }),
  disagreements: defineCollection({ loader: file('content/disagreements.yaml'), schema: Disagreement as never }),
  cases: defineCollection({ loader: documents('content/cases/*.yaml'), schema: Case as never }),
  questions: defineCollection({ loader: rows('content/questions/*.yaml'), schema: Question as never }),
  competencies: defineCollection({ loader: file('content/competencies.yaml'), schema: Competency as never }),
  glossary: defineCollection({ loader: file('content/glossary.yaml'), schema: Term as never }),
};
