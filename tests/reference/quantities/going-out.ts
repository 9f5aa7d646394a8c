/** Altitude and flight rows of the check file, through the calculators a reader would use. */
import altitudeOxygen, {
  equalOxygen,
  icaoAt,
  inspired,
  westPressure,
} from '../../../calculators/planning/altitude-oxygen.ts';
import flightPao2 from '../../../calculators/planning/flight-pao2.ts';
import type { CheckedQuantity } from '../quantity-adapter.ts';
import { resultOf } from './result-of.ts';

const flightResults: Record<string, string> = {
  'dillard-1989-fev1pct': 'dillardPercent',
  'dillard-1989-fev1L': 'dillardLitres',
  'dillard-1989-po2': 'dillardAlone',
  'gong-1984': 'gong',
};

export const goingOut: Record<string, CheckedQuantity> = {
  // The published form holds further than the field of a reader, who is never at 11 000 m.
  'baro.icao': ({ metres }) => icaoAt(Number(metres)) ?? 'reject',
  'baro.west': ({ km }) => resultOf(altitudeOxygen, { altitude: { value: Number(km), unit: 'km' } }, 'west'),
  pio2: ({ fio2, pb }) => inspired.run({ fio2: Number(fio2), pressure: Number(pb) }),
  'fio2.equivalent': ({ feet, ground_pb, model }) => {
    if (model === 'west')
      return equalOxygen.run({
        pressure: westPressure.run({ altitude: Number(feet) * 0.0003048 }),
        ground: Number(ground_pb),
      });
    const percent = resultOf(altitudeOxygen, { altitude: feet, ground: ground_pb }, 'equalOxygen');
    return percent === 'reject' ? percent : percent / 100;
  },
  'pao2.altitude': ({ set, pao2g, fev1pct, fev1L, altitudeKft }) => {
    const result = flightResults[String(set)];
    if (result === undefined) throw new Error(`No flight regression "${set}"`);
    const altitude = altitudeKft === undefined ? undefined : Number(altitudeKft) * 1000;
    return resultOf(flightPao2, { pao2: pao2g, gas: 'air', fev1Percent: fev1pct, fev1: fev1L, altitude }, result);
  },
};
