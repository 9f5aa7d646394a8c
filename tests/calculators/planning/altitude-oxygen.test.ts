import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import altitudeOxygen, { equalOxygen, icaoAt, inspired } from '../../../calculators/planning/altitude-oxygen.ts';
import { ask } from '../ask.ts';

const { answer, value, problems } = ask(altitudeOxygen);
const metres = (value: number) => ({ altitude: { value, unit: 'm{altitude}' } });

describe('air pressure', () => {
  // ICAO standard atmosphere, printed table of pressures in hPa at geopotential metres: from memory
  test.each([
    [0, 1013.25],
    [1000, 898.75],
    [2000, 794.95],
    [3000, 701.09],
    [5000, 540.2],
  ])('at %s m the standard atmosphere holds %s hPa', (altitude, hPa) => {
    expect(value(metres(altitude), 'icao') * 1.33322387415).toBeCloseTo(hPa, 1);
  });

  test('the form itself reaches from 100 m below the sea to 11 000 m, where its layer ends (22 632.1 Pa, printed table)', () => {
    expect((icaoAt(11_000) ?? Number.NaN) * 133.322387415).toBeCloseTo(22_632.1, -1);
    // 101325 x (1 + 0.65 / 288.15)^5.25588 = 102531.8 Pa, by hand
    expect((icaoAt(-100) ?? Number.NaN) * 133.322387415).toBeCloseTo(102_532, -1);
    expect([icaoAt(-100.1), icaoAt(11_000.1), icaoAt(Number.NaN)]).toEqual([undefined, undefined, undefined]);
    // where both answer they agree
    for (const altitude of [0, 2438.4, 9144]) expect(icaoAt(altitude)).toBeCloseTo(value(metres(altitude), 'icao'), 9);
  });

  test('West 1996 holds more than the ICAO air from 1500 m up, by about 10 mmHg at 8000 ft', () => {
    for (const altitude of [1500, 2438, 4000, 6000, 8848])
      expect(value(metres(altitude), 'west')).toBeGreaterThan(value(metres(altitude), 'icao'));
    expect(value({ altitude: 8000 }, 'west') - value({ altitude: 8000 }, 'icao')).toBeCloseTo(9.5, 0);
  });

  test('on the highest mountain West gives about 253 mmHg, as was measured there (not yet checked)', () => {
    expect(Math.abs(value(metres(8848), 'west') - 253)).toBeLessThan(1);
  });

  test('pressure and oxygen fall all the way up', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 29000, noNaN: true }), (feet) => {
        for (const result of ['icao', 'west', 'inspired', 'equalOxygen'])
          expect(value({ altitude: feet + 500 }, result)).toBeLessThan(value({ altitude: feet }, result));
      }),
    );
  });

  test('feet, metres and kilometres agree', () => {
    const feet = value({ altitude: 8000 }, 'icao');
    expect(value(metres(2438.4), 'icao')).toBeCloseTo(feet, 9);
    expect(value({ altitude: { value: 2.4384, unit: 'km' } }, 'icao')).toBeCloseTo(feet, 9);
  });
});

describe('oxygen', () => {
  test('a cabin at 8000 ft is like 15 % oxygen at sea level (hypoxia altitude test, 15.1 %, Chest 2008;133:1002)', () => {
    expect(Math.abs(value({ altitude: 8000 }, 'equalOxygen') - 15.1)).toBeLessThan(0.15);
  });

  test('at the ground itself plain air matches plain air', () => {
    expect(value({ altitude: 0 }, 'equalOxygen')).toBeCloseTo(20.93, 4);
  });

  test('the matching share breathed at the ground gives the inspired oxygen of the altitude', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 300, max: 760, noNaN: true }),
        fc.double({ min: 600, max: 790, noNaN: true }),
        (pressure, ground) => {
          const share = equalOxygen.run({ pressure, ground });
          const atGround = inspired.run({ fio2: share, pressure: ground });
          expect(atGround).toBeCloseTo(inspired.run({ fio2: 0.2093, pressure }), 9);
        },
      ),
    );
  });
});

describe('assumptions and limits', () => {
  test('an empty altitude is a cabin at 8000 ft, and says so', () => {
    expect(value({}, 'icao')).toBe(value({ altitude: 8000 }, 'icao'));
    expect(answer({}).cautions.slice(0, 2)).toEqual([
      'Altitude was taken as a cabin at 8000\u00a0ft (2438\u00a0m).',
      'The ground was taken as sea level, 760\u00a0mmHg.',
    ]);
  });

  test('the height an aircraft flies at is refused', () => {
    expect(problems({ altitude: 35000 })).toEqual([
      {
        field: 'altitude',
        message: 'Altitude is between 0 and 30000 ft. 35000 is outside that',
      },
    ]);
  });
});
