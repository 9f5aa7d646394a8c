import { useEffect, useRef, useState } from 'preact/hooks';
import type { Person } from '../../../calculators/domain/person.ts';
import type { KeptVisit, Series } from '../../../calculators/visit/series.ts';
import { personChanged } from '../../person/store.ts';
import { partMissing } from '../part-missing.ts';
import { type Entries, isTouched } from './entries.ts';
import type { EvidenceData } from './evidence-data.ts';
import { clearKept, readKept } from './on-device.ts';

interface Props {
  person: Person;
  entries: Entries;
  earlier: readonly KeptVisit[];
  /** the visits of a file: with those in hand, or in place of everything typed */
  onOpen: (series: Series, whose: 'same' | 'another') => void;
  onShow: (date: string) => void;
  onBegin: () => void;
  today: string;
  data: EvidenceData | undefined;
}

/** What was read, with what the file cannot hold and what in it was not taken. */
interface Read {
  series: Series;
  lacks?: string | undefined;
  leftOut?: string[] | undefined;
}

/** What was opened, what was wrong with it, and what must be asked before it is taken. */
function useOpening({ person, entries, earlier, onOpen, data }: Props) {
  const [said, setSaid] = useState('');
  const [problems, setProblems] = useState<string[]>([]);
  const [asked, setAsked] = useState<Read>();
  const [leftOut, setLeftOut] = useState<string[]>([]);
  // What was said about the last person's file goes with them.
  useEffect(() => {
    const next = (event: Event) => {
      if (!(event instanceof CustomEvent) || event.detail !== 'next') return;
      setSaid('');
      setProblems([]);
      setLeftOut([]);
      setAsked(undefined);
    };
    addEventListener(personChanged, next);
    return () => removeEventListener(personChanged, next);
  }, []);

  const take = (read: Read, whose: 'same' | 'another') => {
    setAsked(undefined);
    onOpen(read.series, whose);
    setSaid(`${visitsWords(read.series.visits.length)} opened${read.lacks ? `. ${read.lacks}` : ''}`);
    setLeftOut(read.leftOut ?? []);
  };
  const open = async (text: string, name: string) => {
    setAsked(undefined);
    setLeftOut([]);
    const files = await import('./series-file.ts').catch(() => undefined);
    if (!files) {
      setProblems([]);
      setSaid(partMissing);
      return;
    }
    const read = files.readAny(text, data);
    if (!read.ok) {
      setProblems(problemLines(read.problems, name));
      setSaid('Nothing was changed');
      return;
    }
    setProblems([]);
    setSaid('');
    // Never mixed without a word: what is on the sheet may be about someone else.
    if (isTouched(entries) || earlier.length > 0 || differs(person, read.series.person)) setAsked(read);
    else take(read, 'same');
  };
  return { said, setSaid, problems, asked, leave: () => setAsked(undefined), leftOut, take, open };
}

interface Launched {
  files: readonly { getFile: () => Promise<File> }[];
}

/** An installed copy is opened with a file by the system: the file goes to this page and to no server. */
function onLaunchFile(open: (text: string, name: string) => void): void {
  const { launchQueue } = globalThis as { launchQueue?: { setConsumer: (take: (given: Launched) => void) => void } };
  launchQueue?.setConsumer(async ({ files: [given] }) => {
    const file = await given?.getFile();
    if (file) open(await file.text(), file.name);
  });
}

/** Earlier visits: opened from a file or from this device, looked at again, or typed and put behind today's. */
export function Opening(props: Props) {
  const { person, entries, earlier, onShow, onBegin, today } = props;
  const { said, setSaid, problems, asked, leave, leftOut, take, open } = useOpening(props);
  const [kept, setKept] = useState(false);
  const chooser = useRef<HTMLInputElement>(null);
  useEffect(() => setKept(readKept() !== undefined), []);
  const latest = useRef(open);
  latest.current = open;
  useEffect(() => onLaunchFile((text, name) => void latest.current(text, name)), []);

  return (
    <div class="opening">
      <div class="entry">
        <button type="button" onClick={() => chooser.current?.click()}>
          Open earlier visits
        </button>
        {kept && (
          <OnDevice
            onOpen={() => void open(readKept() ?? '', 'kept visits')}
            onClear={() => {
              clearKept();
              setKept(false);
              setSaid('Cleared from this device');
            }}
          />
        )}
      </div>
      <label class="hidden" for="series-file">
        File of saved visits
      </label>
      <input
        id="series-file"
        ref={chooser}
        class="hidden"
        type="file"
        tabIndex={-1}
        accept="application/json,.json"
        onChange={async (event) => {
          const [file] = event.currentTarget.files ?? [];
          const text = await file?.text();
          if (chooser.current) chooser.current.value = '';
          if (file && text !== undefined) await open(text, file.name);
        }}
      />
      {problems.length > 0 && (
        <ul class="problem">
          {problems.map((problem) => (
            <li key={problem}>{problem}</li>
          ))}
        </ul>
      )}
      {asked && (
        <WhoseVisits
          isOther={differs(person, asked.series.person)}
          onTake={(whose) => take(asked, whose)}
          onLeave={leave}
        />
      )}
      {earlier.length > 0 && <EarlierVisits earlier={earlier} onShow={onShow} />}
      {entries.date !== '' && entries.date < today && isTouched(entries) && (
        <p>
          <button type="button" onClick={onBegin}>
            Keep this visit as an earlier one and begin today's
          </button>
        </p>
      )}
      <p role="status">{said}</p>
      {leftOut.length > 0 && <LeftOut leftOut={leftOut} />}
    </div>
  );
}

function OnDevice({ onOpen, onClear }: { onOpen: () => void; onClear: () => void }) {
  return (
    <>
      <button type="button" onClick={onOpen}>
        Open what is kept on this device
      </button>
      <button type="button" class="clears" onClick={onClear}>
        Clear it from this device
      </button>
    </>
  );
}

/** What is on the sheet and what was read are never mixed before someone says whose visits these are. */
function WhoseVisits({
  isOther,
  onTake,
  onLeave,
}: {
  isOther: boolean;
  onTake: (whose: 'same' | 'another') => void;
  onLeave: () => void;
}) {
  return (
    <div class="care" role="alert">
      <p>
        {isOther
          ? 'The disease or sex in the file differs from the sheet. Whose visits are these?'
          : 'The sheet already has entries. Are these visits of the same person?'}
      </p>
      <div class="entry">
        {!isOther && (
          <button type="button" onClick={() => onTake('same')}>
            The same person
          </button>
        )}
        <button type="button" onClick={() => onTake('another')}>
          Another person: clear the sheet first
        </button>
        <button type="button" onClick={onLeave}>
          Do not open the file
        </button>
      </div>
    </div>
  );
}

function EarlierVisits({ earlier, onShow }: Pick<Props, 'earlier' | 'onShow'>) {
  return (
    <details>
      <summary>{visitsWords(earlier.length)} beside this one</summary>
      <ul>
        {earlier.map(({ date }) => (
          <li key={date}>
            {date}{' '}
            <button type="button" onClick={() => onShow(date)}>
              Show on the sheet
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}

function LeftOut({ leftOut }: { leftOut: readonly string[] }) {
  return (
    <details>
      <summary>{leftOut.length} items in the file were left out</summary>
      <ul>
        {leftOut.slice(0, shownLeftOut).map((one) => (
          <li key={one}>{one}</li>
        ))}
        {leftOut.length > shownLeftOut && <li>and {leftOut.length - shownLeftOut} more</li>}
      </ul>
    </details>
  );
}

const problemLines = (problems: readonly { path?: string; line?: number; message: string }[], name: string): string[] =>
  problems
    .slice(0, 8)
    .map(({ path, line, message }) => `${name}${line ? `, line ${line}` : ''}${path ? `, ${path}` : ''}: ${message}`);

const shownLeftOut = 50;
const visitsWords = (count: number): string => `${count} ${count === 1 ? 'visit' : 'visits'}`;

/** What does not change in a person, known on both sides and not the same. */
const differs = (one: Person, other: Person): boolean =>
  (['disease', 'sex'] as const).some(
    (fact) => one[fact] !== undefined && other[fact] !== undefined && one[fact] !== other[fact],
  );
