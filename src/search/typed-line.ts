/**
 * What was typed in a search, stored in the tab: Back and a reload find it again, with what was changed in its answer. It
 * is in no address. A browser keeps addresses in its history and sends that to the reader's other devices.
 */

import { readLines, writeLines } from '../person/store.ts';
import type { Meaning } from './answers.ts';

export interface TypedLine {
  typed: string;
  /** what the reader made of it by tapping: another fact, a sign turned round, the meaning chosen */
  meant?: Meaning | undefined;
  /** in milliseconds */
  at: number;
}

/** As many entries of the tab's history as anyone goes back. */
const most = 20;
const onItsWay = 'next';
const arrivesWithin = 300_000;

/** Each entry of the history has a line of its own. */
const entry = (): string | undefined => history.state?.line;

function store(id: string, line: Omit<TypedLine, 'at'> | undefined): boolean {
  const { [id]: _before, ...others } = readLines<TypedLine>();
  const newest = Object.entries(others)
    .sort(([, a], [, b]) => b.at - a.at)
    .slice(0, most - 1);
  return writeLines<TypedLine>(Object.fromEntries(line ? [[id, { ...line, at: Date.now() }], ...newest] : newest));
}

/** The line of this entry: what was stored, what another page handed over, or what a link says after '#'. */
export function lineHere(): TypedLine | undefined {
  const id = entry();
  const stored = id === undefined ? undefined : readLines<TypedLine>()[id];
  if (stored) return stored;
  const handed = readLines<TypedLine>()[onItsWay];
  if (handed) store(onItsWay, undefined);
  if (handed && Date.now() - handed.at < arrivesWithin) return handed;
  // An address kept from an earlier version has it after '?'.
  const typed = [location.hash.slice(1), location.search]
    .map((text) => new URLSearchParams(text).get('q'))
    .find(Boolean);
  return typed ? { typed, at: Date.now() } : undefined;
}

/** Store the line of this entry and take it out of the address. An empty one is forgotten. */
export function keepLine(typed: string, meant?: Meaning): void {
  const id = entry() ?? Date.now().toString(36);
  const isInAddress = /[#?&]q=/.test(location.hash + location.search);
  // Once for each entry, and not at each key: Safari allows a hundred in half a minute.
  if (entry() === undefined || isInAddress)
    history.replaceState({ ...history.state, line: id }, '', isInAddress ? location.pathname : undefined);
  store(id, typed === '' ? undefined : { typed, meant });
}

/** @returns false where the browser refuses its storage */
export const handOver = (typed: string): boolean => store(onItsWay, { typed });
