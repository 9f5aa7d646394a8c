/** A flow of oxygen by a device, typed without a reading: what it comes to is a calculation. */
import { flowRange, type Interface, venturiFlow } from '../oxygen/interfaces.ts';
import type { Ambiguous, AskedPerson, AskedSum } from './asked.ts';
import { leftWords } from './names.ts';
import { type Typed, takeQuantities } from './numbers.ts';
import type { Scanner } from './text.ts';
import { madeOnce } from './vocabulary.ts';

type Device = Interface | 'mask' | 'oxygen';

const interfaceNames: Record<Interface, string> = {
  cannula: 'Nasal cannula',
  'simple-mask': 'Simple mask',
  'reservoir-mask': 'Reservoir mask',
  venturi: 'Venturi valve',
  'tracheostomy-mask': 'Tracheostomy mask',
};

const patterns = madeOnce(({ interfaces, masks, withFlow, phrase }) => ({
  interfaces: interfaces.map(({ words, interface: its }) => ({ pattern: phrase(words), interface: its })),
  oxygen: phrase('OXYGEN'),
  masks: phrase(masks),
  withFlow: phrase(withFlow),
}));

/** @param scan  the line without the words that say whose it is */
export function oxygenSum(scan: Scanner, person: AskedPerson): AskedSum | Ambiguous | undefined {
  const device = takeInterface(scan);
  const { quantities } = takeQuantities(scan);
  return sumOf(device, quantities, person, leftWords(scan), scan);
}

/** In one clause of the line: a word in the next one is about something else. */
const together = (a: number, b: number, text: string): boolean =>
  !text.slice(Math.min(a, b), Math.max(a, b)).includes(';');

/** A device that gives oxygen; `mask` where the line says no more than that. */
function takeInterface(scan: Scanner): Device | undefined {
  const { interfaces, oxygen: oxygenWords, masks } = patterns(scan.words);
  const device = interfaces.find(({ pattern }) => scan.take(pattern))?.interface;
  const oxygen = scan.take(oxygenWords) !== null;
  return device ?? (scan.take(masks) ? 'mask' : oxygen ? 'oxygen' : undefined);
}

const waysOfOxygen = Object.keys(flowRange) as (keyof typeof flowRange)[];
const isFlow = ({ unit }: Typed): boolean =>
  unit === undefined || unit === 'L' || unit === 'L/min' || unit === 'mL/min';
const isPercent = ({ value, unit }: Typed): boolean =>
  (unit === '%' || unit === undefined) && Object.hasOwn(venturiFlow, String(value));

function sumOf(
  device: Device | undefined,
  quantities: readonly Typed[],
  person: AskedPerson,
  left: readonly { at: number; typed: string }[],
  { text, words }: Scanner,
): AskedSum | Ambiguous | undefined {
  const { oxygen, withFlow } = patterns(words);
  const percent = device === 'venturi' ? quantities.find(isPercent) : undefined;
  const flows = quantities.filter((one) => one !== percent && isFlow(one) && one.value > 0);
  const [flow] = flows;
  if (device === undefined || flows.length > 1 || (flow === undefined && percent === undefined)) return undefined;
  const vague = device === 'mask' || device === 'oxygen';
  // 'mask leak 24 l/min' is about something else.
  if (
    vague &&
    (flow === undefined || left.some(({ at, typed }) => together(at, flow.at, text) && !withFlow.test(typed)))
  )
    return undefined;
  const spare = left.map(({ typed }) => typed);
  if (vague && flow?.unit === undefined && !oxygen.test(text)) return undefined;
  const sum = (one: Interface, valve?: string) => sumFor(one, valve, flow, person, spare);
  if (device === 'venturi') {
    if (percent !== undefined) return sum('venturi', String(percent.value));
    return { kind: 'ask', options: Object.keys(venturiFlow).map((valve) => sum('venturi', valve)) };
  }
  if (!vague) return sum(device);
  const litres = litresOf(flow) ?? 0;
  const inRange = waysOfOxygen.filter(
    (one) => (device === 'oxygen' || one !== 'cannula') && litres >= flowRange[one][0] && litres <= flowRange[one][1],
  );
  const [only] = inRange.map((one) => sum(one));
  if (only === undefined) return undefined;
  return inRange.length === 1 ? only : { kind: 'ask', options: inRange.map((one) => sum(one)) };
}

const litresOf = (flow: Typed | undefined): number | undefined =>
  flow === undefined ? undefined : flow.unit === 'mL/min' ? flow.value / 1000 : flow.value;

function sumFor(
  device: Interface,
  valve: string | undefined,
  flow: Typed | undefined,
  person: AskedPerson,
  spare: string[],
): AskedSum {
  const litres = litresOf(flow);
  return {
    kind: 'sum',
    calculator: 'oxygen-flow-to-fio2',
    title: [interfaceNames[device], valve && `${valve} %`, litres !== undefined && `at ${litres} L/min`]
      .filter(Boolean)
      .join(' '),
    inputs: {
      interface: device,
      ...(litres === undefined ? {} : { flow: { value: litres, unit: 'L/min' } }),
      ...(valve === undefined ? {} : { percent: valve }),
      ...(person.ageYears === undefined ? {} : { age: { value: person.ageYears, unit: 'a' } }),
    },
    person,
    assumed: [
      ...(flow !== undefined && flow.unit !== 'L/min' && flow.unit !== 'mL/min' ? ['L/min'] : []),
      ...(person.ageYears === undefined ? ['an adult'] : []),
      'breathing without a ventilator',
    ],
    unused: spare,
  };
}
