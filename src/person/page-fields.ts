/**
 * Fields of a page that contain something about a person and are stored nowhere else: a search line, a calculator, a
 * recording. The visit sheet is not among them: what is typed there is in the tab's storage.
 */
type Field = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;

interface FieldCopy {
  key: string;
  value: string;
  checked: boolean;
  files: File[];
}

const places = ['.calculator', 'form.find', '.night'];
const fields = (): Field[] => [
  ...document.querySelectorAll<Field>(
    places.map((place) => `main ${place} :is(input:not([type='hidden']), select, textarea)`).join(),
  ),
];
const tables = (): HTMLElement[] => [...document.querySelectorAll<HTMLElement>('main .calculator .series')];
const rowsOf = (table: HTMLElement): number => table.querySelectorAll('tbody tr').length;
const isTick = (field: Field): field is HTMLInputElement => field.type === 'radio' || field.type === 'checkbox';

/** A choice that is offered as the usual one, and a unit, were not entered by anyone. */
function isFilled(field: Field): boolean {
  if (field instanceof HTMLSelectElement) return false;
  if (field instanceof HTMLInputElement && isTick(field)) return field.checked && !field.defaultChecked;
  return field.value.trim() !== '';
}

export function fieldsInWords(): string[] {
  const filled = fields().filter(isFilled);
  const lines = filled.map((field) => {
    if (field.closest('.night')) return 'the overnight recording';
    if (field.closest('.calculator')) return 'what was typed in the calculator on this page';
    return `${field.id === 'q' ? 'the search line' : 'the reading typed on this page'}: \u201c${field.value.trim()}\u201d`;
  });
  return [...new Set(lines)];
}

/** Forms that are not islands get no event when another person begins. */
export function emptySearchLines(): void {
  for (const field of document.querySelectorAll<HTMLInputElement>("main form.find input:not([type='hidden'])"))
    if (field.value !== '') {
      field.value = '';
      dispatchEvents(field, 'input');
    }
}

const keyOf = (field: Field): string =>
  [field.id, field.name, field.getAttribute('aria-label'), isTick(field) && field.value].join('|');

export const copyFields = (): { fields: FieldCopy[]; rows: number[] } => ({
  fields: fields().map((field) => ({
    key: keyOf(field),
    value: field.value,
    checked: isTick(field) && field.checked,
    files: field instanceof HTMLInputElement ? [...(field.files ?? [])] : [],
  })),
  rows: tables().map(rowsOf),
});

/** The page's own script handles each value as if it were typed, and has to draw one before it gets the next. */
const drawn = (): Promise<void> => new Promise((done) => setTimeout(done));
const dispatchEvents = (field: Field, ...events: string[]): void => {
  for (const event of events) field.dispatchEvent(new Event(event, { bubbles: true }));
};

export async function fillFields({ fields: before, rows }: ReturnType<typeof copyFields>): Promise<void> {
  await drawn();
  for (const [at, table] of tables().entries())
    for (let more = (rows[at] ?? 0) - rowsOf(table); more > 0; more -= 1) {
      table.querySelector<HTMLButtonElement>(':scope > button')?.click();
      await drawn();
    }
  const left = [...before];
  // A unit before its number: '14' on the way to '14 months' is nobody's age.
  const inTurn = fields().sort((a, b) => turnOf(a) - turnOf(b));
  for (const field of inTurn) {
    const at = left.findIndex(({ key }) => key === keyOf(field));
    const [was] = at < 0 ? [] : left.splice(at, 1);
    if (was === undefined || !field.isConnected) continue;
    if (was.files.length > 0 && field instanceof HTMLInputElement) {
      const data = new DataTransfer();
      for (const file of was.files) data.items.add(file);
      field.files = data.files;
      dispatchEvents(field, 'change');
    } else if (isTick(field)) {
      if (was.checked && !field.checked) field.click();
    } else if (field.type !== 'file' && field.value !== was.value) {
      field.value = was.value;
      dispatchEvents(field, 'input', 'change');
    }
    await drawn();
  }
}

const turnOf = (field: Field): number => (isTick(field) ? 0 : field instanceof HTMLSelectElement ? 1 : 2);
