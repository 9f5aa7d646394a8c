import { type Agreement, agreementText, limits } from '../../calculators/agreement/agreement.ts';

const fileName = ({ agreed }: Pick<Agreement, 'agreed'>): string => `clinic-agreement-${agreed}.json`;

/** Hand the agreement to the reader as a file. */
export function saveFile(agreement: Agreement): void {
  const address = URL.createObjectURL(new Blob([agreementText(agreement)], { type: 'application/json' }));
  const anchor = document.createElement('a');
  anchor.href = address;
  anchor.download = fileName(agreement);
  anchor.click();
  // Some browsers begin to read only after the click has returned.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** The text of a file that the reader picked; one too large to be an agreement is read only so far as to be refused by its size. */
export const readFile = (file: File): Promise<string> => file.slice(0, limits.file * 4 + 8).text();
