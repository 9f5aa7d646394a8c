/** When a checked criterion is due to be read again. The build warns of each that is overdue. */
import type { Criterion } from '../../calculators/domain/criterion.ts';

/** Common practice for guidance of this kind: look again every year. */
export const recheckMonths = 12;

/** The day of the build, or the one given for a reproducible one. */
const builtOn = new Date(process.env.SOURCE_DATE_EPOCH ? Number(process.env.SOURCE_DATE_EPOCH) * 1000 : Date.now());

const limit = new Date(builtOn);
limit.setUTCMonth(limit.getUTCMonth() - recheckMonths);
const oldest = limit.toISOString().slice(0, 10);

export const overdue = (row: Criterion): boolean => row.checked !== undefined && row.checked < oldest;
export const buildDate = builtOn.toISOString().slice(0, 10);
