/** Titles, synonyms and answers of every page: search ranks these before any full text, and without WebAssembly. */
import { listedPages } from '../../links/listed-pages.ts';

export const GET = () => new Response(JSON.stringify(listedPages));
