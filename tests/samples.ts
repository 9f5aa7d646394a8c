/**
 * How many random samples a property is tried on. `npm test` takes the quick number; `npm run deep` sets
 * TIDEMARK_DEEP=1 and runs the same tests once more on the deep number.
 */
const deepRuns = process.env.TIDEMARK_DEEP === '1';

export const samples = (quick: number, deep: number): { numRuns: number } => ({ numRuns: deepRuns ? deep : quick });
