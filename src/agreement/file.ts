import { type Agreement, agreementText, limits } from '../../calculators/agreement/agreement.ts';
import { fileStem } from '../../calculators/agreement/hand-out.ts';

/** Clinic and version are in the name, so that two of them in one folder are told apart. */
export const asFile = (agreement: Agreement): File =>
  new File([agreementText(agreement)], `${fileStem(agreement)}.json`, { type: 'application/json' });

/** Hand the agreement to the reader as a file. */
export const saveFile = (agreement: Agreement): void => save(asFile(agreement));

export function save(file: File): void {
  const address = URL.createObjectURL(file);
  const anchor = document.createElement('a');
  anchor.href = address;
  anchor.download = file.name;
  anchor.click();
  // Some browsers begin to read only after the click has returned.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** The text of a file that the reader picked; one too large to be an agreement is read only so far as to be refused by its size. */
export const readFile = (file: File): Promise<string> => file.slice(0, limits.file * 4 + 8).text();
