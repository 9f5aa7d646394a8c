/**
 * FEV1/FVC, as a fraction, after GLI-2012 and GLI Global (2022). Standing and refusals as in `gli.ts`.
 *
 * No page shows it yet: the marks of this handbook are written for volumes.
 */
import gli2012Knots from './gli-2012-ratio-knots.json' with { type: 'json' };
import gliGlobalKnots from './gli-2022-global-ratio-knots.json' with { type: 'json' };
import { gli2012Named, gliGlobalNamed, lmsSet } from './lms-set.ts';

export const gliGlobalRatio = lmsSet(gliGlobalNamed, gliGlobalKnots);
export const gli2012Ratio = lmsSet(gli2012Named, gli2012Knots);
