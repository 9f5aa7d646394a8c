import { useEffect, useState } from 'preact/hooks';
import { onEvidence } from '../../../calculators/agreement/agreed-evidence.ts';
import type { Agreement } from '../../../calculators/agreement/agreement.ts';
import { problemWords, type ReadAgreement, readAgreement } from '../../../calculators/agreement/read-agreement.ts';
import { readFile } from '../../agreement/file.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { ChoiceInput } from '../ChoiceInput.tsx';
import { useAgreement } from '../use-agreement.ts';
import { readDraft, readDraftAs } from './draft.ts';

const labels = {
  published: 'The published criteria alone',
  force: 'The agreement in force here',
  draft: 'The draft on this device',
  demonstration: 'The demonstration',
  file: 'A file',
} as const;
export type Choice = keyof typeof labels;

interface Props {
  id: string;
  label: string;
  offered: readonly Choice[];
  start: Choice;
  published: PublishedHere;
  base: string;
  /** undefined: nothing chosen, or what was chosen cannot be read */
  onPick: (picked: { choice: Choice; agreement: Agreement | undefined }) => void;
}

/** One agreement out of those at hand, or a file. */
export function Pick({ id, label, offered, start, published, base, onPick }: Props) {
  const inForce = useAgreement();
  const [choice, setChoice] = useState<Choice>(start);
  const [file, setFile] = useState<File>();
  const [problem, setProblem] = useState('');

  useEffect(() => {
    let current = true;
    void find(choice, file, inForce, published, base).then((found) => {
      if (!current) return;
      setProblem(typeof found === 'string' ? found : '');
      onPick({ choice, agreement: typeof found === 'string' ? undefined : found });
    });
    return () => {
      current = false;
    };
  }, [choice, file, inForce, published, base]);

  return (
    <>
      <ChoiceInput
        id={id}
        label={label}
        options={offered.map((one) => ({ value: one, label: labels[one] }))}
        value={choice}
        problem={problem || undefined}
        onChoose={(value) => setChoice((value || start) as Choice)}
      />
      {choice === 'file' && (
        <div class="field">
          <label for={`${id}-file`}>{label}: file</label>
          <div class="entry">
            <input
              id={`${id}-file`}
              type="file"
              accept=".json,application/json"
              onChange={(event) => setFile(event.currentTarget.files?.[0])}
            />
          </div>
        </div>
      )}
    </>
  );
}

async function find(
  choice: Choice,
  file: File | undefined,
  inForce: Agreement | undefined,
  published: PublishedHere,
  base: string,
): Promise<Agreement | string | undefined> {
  const resultOf = (name: string, read: ReadAgreement): Agreement | string =>
    read.ok ? read.agreement : read.problems.map((problem) => problemWords(name, problem)).join('. ');
  switch (choice) {
    case 'published':
      return undefined;
    case 'force':
      return inForce ?? 'No agreement is in force on this device';
    case 'draft': {
      const draft = readDraft();
      if (!draft) return 'No draft on this device';
      const read = readDraftAs(draft, published);
      return read.ok ? onEvidence(read.agreement, published, published.data.date) : resultOf('draft', read);
    }
    case 'demonstration':
      return resultOf(
        'the demonstration',
        readAgreement(await (await fetch(`${base}data/demonstration-agreement.json`)).text(), published),
      );
    case 'file':
      return file ? resultOf(file.name.slice(0, 80), readAgreement(await readFile(file), published)) : undefined;
  }
}
