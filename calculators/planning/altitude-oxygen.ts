/**
 * Air pressure and inspired oxygen at an altitude, and the oxygen at the ground that would feel the same.
 *
 *   ICAO   P = 101325 x (1 - 0.0065 h / 288.15)^5.25588 Pa          h in metres, -100 to 11 000
 *   West   P = exp(6.63268 - 0.1112 h - 0.00149 h^2) mmHg           h in kilometres, mountains
 *   PiO2   = FiO2 x (P - 47)
 *   equal oxygen = 0.2093 x (P at altitude - 47) / (P at the ground - 47)
 *
 * The share of oxygen never changes with height; the pressure that pushes it in does. An aircraft cabin
 * may be kept at the pressure of 8000 ft, and breathing there is like breathing 15 % oxygen at sea level.
 * Cabins follow the ICAO air; mountains near the equator in summer hold more pressure (West), about
 * 10 mmHg at 8000 ft.
 *
 * @refuses above 30 000 ft (9144 m) and below the sea: where people are, and where the mountain form holds. The ICAO form
 *          itself holds further (`icaoAt`)
 */

import { mercury } from '../blood-gas/shared-fields.ts';
import { defineCalculator, formula } from '../calculator.ts';

export const cabinFeet = 8000;
const cabinMetres = cabinFeet * 0.3048;

const pressureSymbol = { unit: 'mmHg', range: [220, 800] } as const;

const icaoPressure = formula({
  result: 'pressure',
  unit: 'mmHg',
  text: '101325 * (1 - 0.0065 * altitude / 288.15)^5.25588 / 133.322387415',
  withUnits: '101325 Pa * (1 - 0.0065 K/m * altitude / (288.15 K))^5.25588 * (1 / 133.322387415) mmHg/Pa',
  symbols: { altitude: { means: 'altitude', unit: 'm', range: [-100, 11000] } },
  run: ({ altitude }) => (101325 * (1 - (0.0065 * altitude) / 288.15) ** 5.25588) / 133.322387415,
});

/** Metres for which the form is used: its layer ends at 11 000, and a little below the sea the same layer goes on. */
const icaoRange = [-100, 11000] as const;

/** @returns mmHg; undefined outside the range of the form, whatever narrower range a reader's field has */
export const icaoAt = (metres: number): number | undefined =>
  metres >= icaoRange[0] && metres <= icaoRange[1] ? icaoPressure.run({ altitude: metres }) : undefined;

export const westPressure = formula({
  result: 'pressure',
  unit: 'mmHg',
  text: 'exp(6.63268 - 0.1112 * altitude - 0.00149 * altitude^2)',
  withUnits: 'exp(6.63268 - 0.1112 / km * altitude - 0.00149 / km^2 * altitude^2) * 1 mmHg',
  symbols: { altitude: { means: 'altitude', unit: 'km', range: [0, 9.144] } },
  run: ({ altitude }) => Math.exp(6.63268 - 0.1112 * altitude - 0.00149 * altitude ** 2),
});

export const inspired = formula({
  result: 'inspiredOxygen',
  unit: 'mmHg',
  text: 'fio2 * (pressure - 47)',
  withUnits: 'fio2 * (pressure - 47 mmHg)',
  symbols: {
    fio2: { means: 'fraction of oxygen in the air breathed', unit: '', range: [0.15, 1] },
    pressure: { means: 'air pressure', ...pressureSymbol },
  },
  run: ({ fio2, pressure }) => fio2 * (pressure - 47),
});

export const equalOxygen = formula({
  result: 'equalOxygen',
  unit: '',
  text: '0.2093 * (pressure - 47) / (ground - 47)',
  withUnits: '0.2093 * (pressure - 47 mmHg) / (ground - 47 mmHg)',
  symbols: {
    pressure: { means: 'air pressure at altitude', ...pressureSymbol },
    ground: { means: 'air pressure at the ground', unit: 'mmHg', range: [500, 800] },
  },
  run: ({ pressure, ground }) => (0.2093 * (pressure - 47)) / (ground - 47),
});

export default defineCalculator({
  id: 'altitude-oxygen',
  title: 'Oxygen at altitude and in a cabin',
  purpose:
    'Shows the air pressure and oxygen at an altitude, and the oxygen concentration that would match that altitude at ground level.',
  group: 'going-out',
  keywords: [
    'altitude',
    'cabin',
    'flight',
    'barometric pressure',
    'PiO2',
    'hypoxic challenge',
    '15 % oxygen',
    'mountain',
  ],
  fields: {
    altitude: {
      kind: 'number',
      label: 'Altitude',
      unit: '[ft_i]{altitude}',
      accepts: ['m{altitude}', 'km'],
      plausible: [0, 15000],
      hard: [0, 30000],
      optional: true,
      help: 'Enter the altitude of the place or of the cabin. The cabin altitude is lower than the altitude at which the aircraft flies. If you enter no altitude, the calculation uses 8000 ft (2438 m), the highest cabin altitude allowed.',
    },
    fio2: {
      kind: 'number',
      label: 'Oxygen breathed in',
      unit: '1',
      accepts: ['%'],
      plausible: [0.2, 0.6],
      hard: [0.15, 1],
      optional: true,
      help: 'If you enter no oxygen concentration, the calculation uses room air (0.2093).',
    },
    ground: {
      kind: 'number',
      label: 'Air pressure at the ground',
      unit: 'mm[Hg]',
      accepts: ['hPa', 'kPa'],
      plausible: [600, 790],
      hard: [450, 800],
      optional: true,
      help: 'Enter the air pressure of the place where a hypoxic challenge test would be done. If you enter no air pressure, the calculation uses 760 mmHg (sea level).',
    },
  },
  formulas: { icaoPressure, westPressure, inspired, equalOxygen },
  results: {
    equalOxygen: {
      label: 'Oxygen at ground level that matches air at this altitude',
      unit: '%',
      decimals: 1,
      plausible: [10, 28],
      main: true,
    },
    inspired: {
      label: 'Inspired oxygen at this altitude (ICAO air)',
      unit: 'mm[Hg]',
      decimals: 0,
      plausible: [50, 720],
      main: true,
    },
    inspiredWest: {
      label: 'Inspired oxygen there (West, mountains)',
      unit: 'mm[Hg]',
      decimals: 0,
      plausible: [50, 720],
    },
    icao: { label: 'Air pressure (ICAO)', unit: 'mm[Hg]', decimals: 0, plausible: [420, 800] },
    west: { label: 'Air pressure (West)', unit: 'mm[Hg]', decimals: 0, plausible: [420, 800] },
  },
  holds: {
    population: 'the air at altitude, not to the person who breathes it',
    notFor: 'altitudes above 30 000 ft, or changes in air pressure due to the weather',
  },
  cautions: [
    'Low oxygen in the cabin air is only one of the risks of a flight. If the breathing muscles are weak, ventilation comes before oxygen: oxygen alone can let CO2 rise unnoticed.',
    'Contact the ventilation service weeks before the flight. Some devices perform differently at altitude, so read the device’s instructions.',
  ],
  citations: [
    {
      cite: 'ICAO standard atmosphere',
      locator:
        'read on a physics page on altimetry: the constants, and a pressure of 22 632.1 Pa at 11 000 m, the top of the lowest layer; we derived the exponent from these figures',
      standing: 'checked-in-summary',
      note: 'We assume that the lowest layer of the standard atmosphere continues a little below sea level (from memory).',
    },
    {
      cite: 'West JB. J Appl Physiol 1996;81:1850-1854',
      locator:
        'the three coefficients as used in an academic oxygen model; we have not checked where and when the coefficients apply',
      standing: 'checked-in-summary',
    },
    {
      cite: 'Air travel in pulmonary hypertension (PMC3465107)',
      locator:
        'the US regulator’s cabin limit of 8000 ft; the cabin altitudes measured had a mean of 6456 ft (SD 1218) and a highest value of 8600 ft',
      standing: 'checked-in-summary',
    },
    {
      cite: 'Hypoxia altitude simulation test. Chest 2008;133:1002',
      locator: 'abstract: the hypoxic challenge test uses 15.1 % oxygen for a cabin at 8000 ft',
      standing: 'checked',
    },
    {
      cite: 'Oxygen is 20.93 % of air, and the pressure of water vapour is 47 mmHg at 37 °C',
      locator: 'standard constants, from memory',
      standing: 'from-memory',
    },
    mercury,
  ],
  compute: ({ altitude, fio2: typed, ground }, step) => {
    const metres = altitude === undefined ? cabinMetres : altitude * 0.3048;
    const fio2 = typed ?? 0.2093;
    const icao = step(icaoPressure, { altitude: metres });
    const west = step(westPressure, { altitude: metres / 1000 });
    return {
      results: {
        equalOxygen: { value: 100 * step(equalOxygen, { pressure: icao, ground: ground ?? 760 }) },
        inspired: { value: step(inspired, { fio2, pressure: icao }) },
        inspiredWest: { value: step(inspired, { fio2, pressure: west }) },
        icao: { value: icao },
        west: { value: west },
      },
      cautions: [
        ...(altitude === undefined ? ['Altitude was taken as a cabin at 8000\u00a0ft (2438\u00a0m).'] : []),
        ...(ground === undefined ? ['The ground was taken as sea level, 760\u00a0mmHg.'] : []),
      ],
    };
  },
});
