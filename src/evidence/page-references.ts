/**
 * The references of a page of prose, numbered by source in the order in which they first appear. Read from the text of the
 * page before it is drawn, so that a number and its place in the list of sources never differ.
 */
import { type Standing, standings } from '../../calculators/standing.ts';

/** One place in a source, and how well it was read. */
export interface Place {
  /** of the number: 'a', 'b'; empty where the source has one place only */
  letter: string;
  at: string | undefined;
  is: Standing;
}

export interface NumberedSource {
  number: number;
  source: string;
  places: Place[];
}

export interface Reference {
  source?: string | undefined;
  at?: string | undefined;
  is: Standing;
}

const decoded = (text: string): string =>
  text.replaceAll('&quot;', '"').replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&amp;', '&');

/** Common practice has no number: the page says so once. */
export const isNumbered = ({ source, is }: Reference): boolean => source !== undefined && is !== 'common-practice';

/** @param body  MDX, in which a reference is always written as one tag with plain attributes */
export function referencesOf(body: string): NumberedSource[] {
  const found = new Map<string, Place[]>();
  for (const [, attributes = ''] of body.matchAll(/<Ref\s([^>]*?)\/>/g)) {
    const given = Object.fromEntries(
      [...attributes.matchAll(/(\w+)="([^"]*)"/g)].map(([, name = '', value = '']) => [name, decoded(value)]),
    );
    const is = standings.find((one) => one === given.is);
    if (is === undefined || given.source === undefined || !isNumbered({ source: given.source, is })) continue;
    const places = found.get(given.source) ?? [];
    if (!places.some((place) => place.at === given.at && place.is === is))
      places.push({ letter: '', at: given.at, is });
    found.set(given.source, places);
  }
  return [...found].map(([source, places], index) => ({
    number: index + 1,
    source,
    places: places.map((place, at) => ({ ...place, letter: places.length > 1 ? letterOf(at) : '' })),
  }));
}

/** a to z, then aa, ab. */
const letterOf = (index: number): string =>
  (index < 26 ? '' : letterOf(Math.floor(index / 26) - 1)) + String.fromCharCode(97 + (index % 26));

/** '3a', as it is printed beside the claim and in the list. */
export function labelOf(references: readonly NumberedSource[], { source, at, is }: Reference): string {
  const numbered = references.find((one) => one.source === source);
  const place = numbered?.places.find((one) => one.at === at && one.is === is);
  if (numbered === undefined || place === undefined)
    throw new Error(
      `Ref: "${source}"${at === undefined ? '' : `, ${at}`} (${is}) was not found in the text of the page`,
    );
  return `${numbered.number}${place.letter}`;
}
