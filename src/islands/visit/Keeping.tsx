import { useEffect, useState } from 'preact/hooks';
import type { Person } from '../../../calculators/domain/person.ts';
import type { KeptVisit } from '../../../calculators/visit/series.ts';
import { digestHere } from '../../agreement/store.ts';
import { personChanged, readEntries, writeEntries } from '../../person/store.ts';
import { partMissing } from '../part-missing.ts';
import { useAgreement } from '../use-agreement.ts';
import type { Entries } from './entries.ts';
import type { EvidenceData } from './evidence-data.ts';
import { keepVisit, pastVisits, seriesOf } from './kept.ts';
import { clearKept, keep, readKept } from './on-device.ts';

interface Props {
  person: Person;
  entries: Entries;
  earlier: readonly KeptVisit[];
  data: EvidenceData;
}

/** Save and keep. Nothing is stored unless the reader asks. */
export function Keeping({ person, entries, earlier, data }: Props) {
  const [said, setSaid] = useState('');
  const [kept, setKept] = useState(false);
  const agreement = useAgreement();
  useEffect(() => {
    const look = () => setKept(readKept() !== undefined);
    look();
    // 'Next person' offers to clear them.
    addEventListener(personChanged, look);
    return () => removeEventListener(personChanged, look);
  }, []);

  const series = seriesOf(person, earlier, keepVisit(person, entries));
  const many = `${series.visits.length} ${series.visits.length === 1 ? 'visit' : 'visits'}`;
  /** The part that writes files comes when it is needed: without a signal and an offline copy it may not come at all. */
  const written = async (write: (files: typeof import('./series-file.ts')) => void) => {
    const files = await import('./series-file.ts').catch(() => setSaid(partMissing));
    if (files) write(files);
  };
  const save = ({ writeSeries }: typeof import('./series-file.ts')) => {
    download(`visits-${entries.date}.json`, writeSeries(series));
    setSaid(`${many} saved as a file`);
  };
  const saveFhir = ({ fhirText }: typeof import('./series-file.ts')) => {
    download(
      `visits-${entries.date}.fhir.json`,
      fhirText(
        pastVisits(person, series.visits, data.measures),
        data.measures,
        (id) => data.decisions[id]?.status?.label ?? data.decisions[id]?.title ?? id,
        {
          edition: data.date,
          recorded: new Date().toISOString(),
          agreement: agreement && { name: agreement.clinic, digest: digestHere() },
        },
      ),
    );
    setSaid(`${many} saved as an HL7 FHIR R4 bundle`);
  };
  const keepHere = ({ writeSeries }: typeof import('./series-file.ts')) => {
    const taken = keep(writeSeries(series));
    setKept(readKept() !== undefined);
    setSaid(taken ? `${many} kept on this device` : 'This browser does not store anything for this site');
  };

  return (
    <section class="keeping" aria-labelledby="keeping-title">
      <h2 id="keeping-title">Keep the visits</h2>
      <p class="small">Save this visit and {earlier.length} more as a file that you keep. The file names nobody.</p>
      <div class="entry">
        <button type="button" class="main" onClick={() => written(save)}>
          Save as a file
        </button>
        <button type="button" onClick={() => written(saveFhir)}>
          Save for a health record (FHIR)
        </button>
      </div>
      <p class="small">
        You can open both again here. The file for a health record holds what was found. It does not hold what was
        planned, what the person wants, who answers, what is asked, or the emergency card.
      </p>
      <p class="care">
        <b>On this device</b> the visits stay after the tab is closed, as they are now, and anyone who opens this
        browser can read them. Do not use this on a shared phone, and use it only if your policy allows it.
      </p>
      <div class="entry">
        <button type="button" onClick={() => written(keepHere)}>
          {kept ? 'Replace what is kept here with this' : 'Keep on this device'}
        </button>
        {kept && (
          <button
            type="button"
            class="clears"
            onClick={() => {
              clearKept();
              setKept(false);
              setSaid('Cleared from this device');
            }}
          >
            Clear what is kept here
          </button>
        )}
      </div>
      <p role="status">{said}</p>
    </section>
  );
}

function download(name: string, text: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

/** Other visits of the person in hand, held in this tab like the rest of what was typed for them. */
export const readEarlier = (): KeptVisit[] => readEntries<KeptVisit[]>('earlier') ?? [];
export const writeEarlier = (visits: readonly KeptVisit[]): void => writeEntries('earlier', visits);
