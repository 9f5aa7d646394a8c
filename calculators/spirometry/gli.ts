/**
 * FVC and FEV1 after the two spirometry sets of the Global Lung Function Initiative, ages 3 to 95: GLI-2012, with
 * five groups, and GLI Global (2022), with none. Litres BTPS. The papers give no limits of height: it enters as a power.
 *
 * @refuses ages under 3 and over 95, and GLI-2012 without a group
 * @source  GLI-2012: Quanjer 2012, coefficients and tables as carried by two open implementations that agree; the
 *          paper itself was not read. GLI Global: Bowerman 2023, the initiative's own equations workbook, read
 */
import gli2012Knots from './gli-2012-knots.json' with { type: 'json' };
import gliGlobalKnots from './gli-2022-global-knots.json' with { type: 'json' };
import { gli2012Named, gliGlobalNamed, lmsSet } from './lms-set.ts';

export const gliGlobal = lmsSet(gliGlobalNamed, gliGlobalKnots);
export const gli2012 = lmsSet(gli2012Named, gli2012Knots);
