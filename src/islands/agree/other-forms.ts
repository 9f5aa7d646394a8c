/** The agreement as minutes, as a table, as a day in a calendar. Fetched when one is asked for. */
import type { Agreement } from '../../../calculators/agreement/agreement.ts';
import { agreementLine } from '../../../calculators/agreement/digest.ts';
import { agreementCsv, fileStem, reviewCalendar } from '../../../calculators/agreement/hand-out.ts';
import { minutesDocument, minutesParts, minutesText } from '../../../calculators/agreement/minutes.ts';
import { editionHere } from '../../agreement/edition.ts';
import { save } from '../../agreement/file.ts';
import type { PublishedHere } from '../../agreement/published.ts';

export type OtherForm = 'text' | 'minutes' | 'csv' | 'calendar';

const named = (published: PublishedHere) => (id: string) => published.data.sources[id] ?? id;
const lastLine = (agreement: Agreement, digest: string | undefined) => agreementLine(agreement, digest, editionHere());

export const minutesToCopy = (agreement: Agreement, published: PublishedHere, digest: string | undefined): string =>
  minutesText(agreement, minutesParts(agreement, published, named(published)), lastLine(agreement, digest));

export function saveAs(
  form: Exclude<OtherForm, 'text'>,
  agreement: Agreement,
  published: PublishedHere,
  digest: string | undefined,
): void {
  const stem = fileStem(agreement);
  const parts = () => minutesParts(agreement, published, named(published));
  const files: Record<typeof form, () => [text: string, ending: string, type: string]> = {
    minutes: () => [minutesDocument(agreement, parts(), lastLine(agreement, digest)), 'minutes.html', 'text/html'],
    csv: () => [agreementCsv(agreement, published, named(published), digest), 'criteria.csv', 'text/csv'],
    calendar: () => [reviewCalendar(agreement), 'review.ics', 'text/calendar'],
  };
  const [text, ending, type] = files[form]();
  save(new File([text], `${stem}-${ending}`, { type: `${type};charset=utf-8` }));
}
