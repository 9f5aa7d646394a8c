/** Subjects that have a page: search links to them. No criterion and no emergency hangs on them, so they come after the words. */
import { subjects } from '../../evidence/vocabulary.ts';

export const GET = () => new Response(JSON.stringify(subjects));
