/**
 * FEV1/FVC, as a fraction, after GLI-2012 and GLI Global (2022). Standing and refusals as in `gli.ts`.
 *
 * No page shows it: the published criteria here are written for volumes. The check file has rows about it, and each of
 * them exercises the curves and the interpolation of `lms-set.ts`, which the shown volumes rest on.
 */

import { gli2012Named, gliGlobalNamed, lmsSet } from '../../../calculators/spirometry/lms-set.ts';
import gli2012Knots from './gli-2012-ratio-knots.json' with { type: 'json' };
import gliGlobalKnots from './gli-2022-global-ratio-knots.json' with { type: 'json' };

export const gliGlobalRatio = lmsSet(gliGlobalNamed, gliGlobalKnots);
export const gli2012Ratio = lmsSet(gli2012Named, gli2012Knots);
