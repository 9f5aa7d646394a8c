/** The minutes of a meeting: as text to paste, and as a document that a word processor opens. */

import type { AgreedCriterion, Agreement, Said } from './agreement.ts';
import { departureWords, originWords, spanWords } from './agreement-words.ts';
import { criterionWords, peopleWords } from './criterion-words.ts';
import { departureOf, type Published } from './local-criteria.ts';
import { criteriaTwice, isMeant, type Twice } from './meeting.ts';
import { statusSentence, versionWords } from './status.ts';

interface MinutesPart {
  title: string;
  lines: string[];
}

/** What was decided, decision by decision, with its reasons; then dissent and what is still open. */
export function minutesParts(
  agreement: Agreement,
  published: Published,
  sourceName: (id: string) => string,
): MinutesPart[] {
  const { marks, minutes = {}, phones, waits } = agreement;
  const titleOf = (decision: string) => published.decisions[decision]?.title ?? decision;
  const decisions = [...new Set(marks.map(({ decision }) => decision))];
  const said = ({ by, says, decision }: Said) =>
    `${decision === undefined ? '' : `${titleOf(decision)}. `}${by === undefined ? '' : `${by}: `}${says}`;
  return [
    { title: 'Present', lines: [(minutes.present ?? agreement.agreedBy).join(', ')] },
    { title: 'Agreed by', lines: [agreement.agreedBy.join(', ')] },
    ...decisions.map((decision) => ({
      title: titleOf(decision),
      lines: marks
        .filter((criterion) => criterion.decision === decision)
        .map((criterion) => decidedWords(criterion, published, sourceName)),
    })),
    { title: 'Two thresholds for the same people', lines: twiceLines(agreement, published) },
    { title: 'Dissent', lines: (minutes.dissent ?? []).map(said) },
    { title: 'Open questions', lines: (minutes.open ?? []).map(said) },
    { title: 'Whom to call', lines: phones.map(({ label, number }) => `${label}: ${number}`) },
    { title: 'Usual waits', lines: waits.map(({ what, weeks }) => `${what}: ${weeks} weeks`) },
  ].filter(({ lines }) => lines.some((line) => line !== ''));
}

/** Whether both are meant, as it was answered; a question that nobody answered stays in sight. */
const twiceLines = (agreement: Agreement, published: Published): string[] =>
  criteriaTwice(agreement, published).map(
    (pair) =>
      `${twiceWords(pair, published)}: ${isMeant(pair, agreement) ? 'both are meant' : 'nobody has said whether both are meant'}.`,
  );

/** 'Night ventilation: SNIP below 30 cmH2O (ALS/MND; adults) and SNIP below 45 cmH2O (ALS/MND; adults)' */
export const twiceWords = ({ a, b }: Twice, { decisions, measures }: Published): string =>
  `${decisions[a.decision]?.title ?? a.decision}: ${[a, b]
    .map((one) => `${criterionWords(one, measures)} (${peopleWords(one)})`)
    .join(' and ')}`;

function decidedWords(criterion: AgreedCriterion, published: Published, sourceName: (id: string) => string): string {
  const departs = departureOf(criterion, published);
  return [
    `${criterionWords(criterion, published.measures)} (${peopleWords(criterion)})`,
    originWords(criterion, published, sourceName),
    departs ? `${departureWords[departs]} (${spanWords(criterion, published)})` : '',
    criterion.reason ? `Reason: ${criterion.reason.replace(/[.\s]+$/, '')}` : '',
    criterion.looked ? `Evidence reviewed on ${criterion.looked}` : '',
  ]
    .filter(Boolean)
    .join('. ')
    .concat('.');
}

const headWords = (agreement: Agreement): string[] => [
  `${agreement.clinic}: minutes of the meeting on the clinic agreement`,
  `${versionWords(agreement)}; to be reviewed by ${agreement.review}. ${statusSentence(agreement)}`,
];

/** Lines of plain text, for a message or the clinic's own form. */
export function minutesText(agreement: Agreement, parts: readonly MinutesPart[], last: string): string {
  const blocks = parts.map(({ title, lines }) => [title, ...lines.map((line) => `- ${line}`)].join('\n'));
  return `${[headWords(agreement).join('\n'), ...blocks, last].join('\n\n')}\n`;
}

const markup: Record<string, string> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
const plain = (text: string): string => text.replace(/[&<>"]/g, (character) => markup[character] ?? character);

/** The same as a page of its own, with lines to sign. */
export function minutesDocument(agreement: Agreement, parts: readonly MinutesPart[], last: string): string {
  const [title = '', version = ''] = headWords(agreement).map(plain);
  const blocks = parts.map(
    (part) =>
      `<h2>${plain(part.title)}</h2>\n<ul>\n${part.lines.map((line) => `<li>${plain(line)}</li>`).join('\n')}\n</ul>`,
  );
  const signatures = agreement.agreedBy.map((role) => `<tr><td>${plain(role)}</td><td>&nbsp;</td><td>&nbsp;</td></tr>`);
  return `<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><title>${title}</title></head>
<body>
<h1>${title}</h1>
<p>${version}</p>
${blocks.join('\n')}
<h2>Signed for the clinic</h2>
<table border="1">
<tr><th>Role</th><th>Signature</th><th>Date</th></tr>
${signatures.join('\n')}
</table>
<p>${plain(last)}</p>
</body>
</html>
`;
}
