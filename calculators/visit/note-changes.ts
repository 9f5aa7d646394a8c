/** What is otherwise than at the visit before: complaints and signs, supports. Readings are compared in since-words.ts. */
import { supportStatusWords, type Visit } from '../domain/visit.ts';
import type { NoteInput } from './note-input.ts';

/** Only what was asked at both visits has changed; what was not asked then is not new. */
export function changedAnswers({ visit, previous, evidence, decisions }: NoteInput): string[] {
  if (previous === undefined) return [];
  const turned = (to: 'present' | 'absent') =>
    Object.entries(visit.signs)
      .filter(([id, now]) => now === to && previous.visit.signs[id] !== undefined && previous.visit.signs[id] !== to)
      .map(([id]) => evidence.measures[id]?.short ?? id);
  const came = turned('present');
  const went = turned('absent');
  const supports = Object.entries(visit.supports ?? {}).flatMap(([id, now]) => {
    const before = (previous.visit.supports ?? ({} as NonNullable<Visit['supports']>))[id];
    const label = decisions[id]?.status?.label ?? decisions[id]?.title ?? id;
    return before === undefined || before === now
      ? []
      : [`${label}: ${supportStatusWords[now]}, was ${supportStatusWords[before]}`];
  });
  return [
    ...(came.length > 0 ? [`Met now, not met last time: ${came.join('; ')}`] : []),
    ...(went.length > 0 ? [`Met last time, no longer met: ${went.join('; ')}`] : []),
    ...supports,
  ];
}
