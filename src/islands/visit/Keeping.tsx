import { useEffect, useRef, useState } from 'preact/hooks';
import type { Person } from '../../../calculators/criteria/person.ts';
import type { KeptVisit } from '../../../calculators/criteria/series.ts';
import { readEntries, writeEntries, writePerson } from '../../person/store.ts';
import type { Entries } from './entries.ts';
import type { EvidenceData } from './evidence-data.ts';

interface Props {
  person: Person;
  entries: Entries;
  earlier: readonly KeptVisit[];
  data: EvidenceData;
  onEarlier: (visits: KeptVisit[]) => void;
}

/** On this device only when the reader asks; the key says that it is one person's. */
const keptKey = 'tidemark:kept-series';

/** Save, open and clear. Nothing is stored unless the reader asks, and a broken file changes nothing. */
export function Keeping({ person, entries, earlier, data, onEarlier }: Props) {
  const [said, setSaid] = useState('');
  const [problems, setProblems] = useState<string[]>([]);
  const [kept, setKept] = useState(false);
  const chooser = useRef<HTMLInputElement>(null);
  useEffect(() => setKept(readKept() !== null), []);

  const whole = async () => {
    const file = await import('./series-file.ts');
    return { file, series: file.seriesOf(person, earlier, file.keepVisit(person, entries)) };
  };
  const save = async () => {
    const { file, series } = await whole();
    download(`visits-${entries.date}.json`, file.writeSeries(series));
    setSaid(`${series.visits.length} visits saved as a file`);
  };
  const saveFhir = async () => {
    const { file, series } = await whole();
    const visits = file.pastVisits(person, series.visits, data.measures);
    download(
      `visits-${entries.date}.fhir.json`,
      file.fhirText(visits, data.measures, (id) => data.decisions[id]?.title ?? id),
    );
    setSaid('Saved as an HL7 FHIR R4 bundle');
  };
  const open = async (text: string, name: string) => {
    const { readSeries } = await import('./series-file.ts');
    const read = readSeries(text);
    if (!read.ok) {
      setProblems(
        read.problems
          .slice(0, 8)
          .map(
            ({ path, line, message }) => `${name}${line ? `, line ${line}` : ''}${path ? `, ${path}` : ''}: ${message}`,
          ),
      );
      setSaid('Nothing was changed');
      return;
    }
    setProblems([]);
    const { label: _, ...held } = read.series.person;
    writePerson(held);
    onEarlier(read.series.visits);
    setSaid(
      `${read.series.visits.length} visits opened${read.migratedFrom === undefined ? '' : `, from version ${read.migratedFrom} of the file`}`,
    );
  };
  const keep = async (on: boolean) => {
    try {
      if (on) {
        const { file, series } = await whole();
        localStorage.setItem(keptKey, file.writeSeries(series));
      } else localStorage.removeItem(keptKey);
      setKept(on);
      setSaid(on ? 'Kept on this device. Anyone who opens this browser can see it' : 'Cleared from this device');
    } catch {
      setSaid('This browser does not keep anything for this site');
    }
  };

  return (
    <section class="keeping" aria-labelledby="keeping-title">
      <h2 id="keeping-title">Keep the visits</h2>
      <p class="small">
        As a file that you hold.{' '}
        {earlier.length > 0 ? `${earlier.length} earlier visits are open.` : 'No earlier visit is open.'} The file names
        nobody; keep it where your policy says.
      </p>
      <div class="entry">
        <button type="button" class="main" onClick={save}>
          Save as a file
        </button>
        <button type="button" onClick={() => chooser.current?.click()}>
          Open a saved file
        </button>
        <button type="button" onClick={saveFhir}>
          Save for a health record (FHIR)
        </button>
      </div>
      <label class="hidden" for="series-file">
        File of saved visits
      </label>
      <input
        id="series-file"
        ref={chooser}
        class="hidden"
        type="file"
        accept="application/json,.json"
        onChange={async (event) => {
          const [file] = event.currentTarget.files ?? [];
          event.currentTarget.value = '';
          if (file) await open(await file.text(), file.name);
        }}
      />
      {problems.length > 0 && (
        <ul class="problem">
          {problems.map((problem) => (
            <li key={problem}>{problem}</li>
          ))}
        </ul>
      )}
      <label class="chip">
        <input type="checkbox" checked={kept} onChange={(event) => void keep(event.currentTarget.checked)} />
        Keep this person's visits on this device
      </label>
      {kept && (
        <button type="button" onClick={() => void open(readKept() ?? '', 'kept visits')}>
          Open what is kept here
        </button>
      )}
      <p role="status">{said}</p>
    </section>
  );
}

function readKept(): string | null {
  try {
    return localStorage.getItem(keptKey);
  } catch {
    return null;
  }
}

function download(name: string, text: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

/** Earlier visits of the person in hand, held in this tab like the rest of what was typed for them. */
export const readEarlier = (): KeptVisit[] => readEntries<KeptVisit[]>('earlier') ?? [];
export const writeEarlier = (visits: KeptVisit[]): void => writeEntries('earlier', visits);
