/** Titles, synonyms and answers of every page: search ranks these before any full text, and without WebAssembly. */
import { getCollection } from 'astro:content';
import { lookUpOf } from '../../evidence/look-up-words.ts';
import { listedPages } from '../../links/listed-pages.ts';

const [words] = await getCollection('lookUp');
if (!words) throw new Error('content/look-up.yaml is missing');
const lookUp = lookUpOf(words.data as never);

export const GET = () => new Response(JSON.stringify({ pages: listedPages, lookUp }));
