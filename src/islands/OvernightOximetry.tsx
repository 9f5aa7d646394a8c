import '../styles/more-fields.css';
import type { Ref } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { FileProblem } from '../../calculators/night-oximetry/recording.ts';
import type { Answers, FromWorker, Night, ToWorker } from '../night-oximetry/messages.ts';
import { personChanged } from '../person/store.ts';
import { HourTable, LeftOut, NightFigures } from './oximetry/NightFigures.tsx';
import { ToVisit } from './oximetry/ToVisit.tsx';
import { TraceView } from './oximetry/TraceView.tsx';
import { useReady } from './use-ready.ts';

type State =
  | { is: 'empty' }
  | { is: 'reading'; doing: string; share: number }
  | { is: 'problems'; problems: FileProblem[] }
  | { is: 'read'; night: Night };

/** A night's recording: opened, counted and drawn on this device. Figures with their rules, and nothing concluded. */
export function OvernightOximetry({ base }: { base: string }) {
  const ready = useReady();
  const [state, setState] = useState<State>({ is: 'empty' });
  const [file, setFile] = useState<File>();
  const [answers, setAnswers] = useState<Answers>({});
  const worker = useRef<Worker>();
  const input = useRef<HTMLInputElement>(null);

  const stop = () => {
    worker.current?.terminate();
    worker.current = undefined;
  };
  const clear = () => {
    stop();
    setState({ is: 'empty' });
    setFile(undefined);
    setAnswers({});
    if (input.current) input.current.value = '';
  };
  useEffect(() => {
    // A recording belongs to the current person, like everything typed.
    const next = (event: Event) => event instanceof CustomEvent && event.detail === 'next' && clear();
    addEventListener(personChanged, next);
    return () => {
      removeEventListener(personChanged, next);
      stop();
    };
  }, []);

  const read = (chosen: File, answered: Answers) => {
    stop();
    setFile(chosen);
    setAnswers(answered);
    setState({ is: 'reading', doing: 'Opening the file', share: 0 });
    worker.current = startReading({ file: chosen, answers: answered }, setState, stop);
  };

  return (
    <div class="night">
      <form method="dialog" onSubmit={(event) => event.preventDefault()} autocomplete="off">
        <fieldset disabled={!ready}>
          {!ready && <p class="care late">Opening a recording needs JavaScript, which has not loaded yet.</p>}
          <Chooser
            input={input}
            isEmpty={state.is === 'empty'}
            onChoose={(chosen) => read(chosen, {})}
            onClear={clear}
          />
        </fieldset>
      </form>
      <div role="status">
        {state.is === 'reading' && (
          <p>
            {state.doing} <progress max={1} value={state.share} aria-label={state.doing} />
          </p>
        )}
        {state.is === 'read' && <p class="hidden">The recording was read. Its figures follow.</p>}
      </div>
      {state.is === 'problems' && (
        <Problems
          name={file?.name ?? 'The file'}
          problems={state.problems}
          onAnswer={(question, value) => file && read(file, { ...answers, [question]: value })}
        />
      )}
      {state.is === 'read' && <Read night={state.night} name={file?.name ?? ''} base={base} />}
    </div>
  );
}

/** Reads the file in the background and says how far it is. `end` is called when there is an answer. */
function startReading(message: ToWorker, setState: (state: State) => void, end: () => void): Worker | undefined {
  const failed = (words: string) => setState({ is: 'problems', problems: [{ message: words }] });
  try {
    const worker = new Worker(new URL('../night-oximetry/worker.ts', import.meta.url), { type: 'module' });
    worker.addEventListener('message', ({ data }: MessageEvent<FromWorker>) => {
      if (data.kind === 'progress') setState({ is: 'reading', doing: data.doing, share: data.share });
      else {
        setState(
          data.kind === 'night' ? { is: 'read', night: data.night } : { is: 'problems', problems: data.problems },
        );
        end();
      }
    });
    worker.addEventListener('error', () =>
      failed('The part that reads recordings could not be started on this device. Reload the page and try again'),
    );
    worker.postMessage(message);
    return worker;
  } catch {
    failed('This browser cannot read a recording in the background. A newer one can');
    return undefined;
  }
}

interface ChooserProps {
  input: Ref<HTMLInputElement>;
  isEmpty: boolean;
  onChoose: (file: File) => void;
  onClear: () => void;
}

function Chooser({ input, isEmpty, onChoose, onClear }: ChooserProps) {
  return (
    <div class="field">
      <label for="night-file">A recording: a table (CSV, TXT) or European Data Format (EDF)</label>
      <div class="entry">
        <input
          id="night-file"
          ref={input}
          type="file"
          accept=".csv,.txt,.tsv,.edf,text/csv,text/plain"
          aria-describedby="night-file-help"
          onChange={(event) => {
            const chosen = event.currentTarget.files?.[0];
            if (chosen) onChoose(chosen);
          }}
        />
        {!isEmpty && (
          <button type="button" onClick={onClear}>
            Clear this recording
          </button>
        )}
      </div>
      <p class="small" id="night-file-help">
        The page reads the file on this device, sends it nowhere and does not keep it. If the file contains a name, the
        page does not read the name.
      </p>
    </div>
  );
}

function Read({ night, name, base }: { night: Night; name: string; base: string }) {
  const { summary, understood, notes, startedAt } = night;
  const cautions = [...notes, ...summary.cautions];
  return (
    <>
      <section aria-labelledby="figures-title">
        <h2 id="figures-title">The figures</h2>
        <p class="small">
          {name}
          {startedAt && `, from ${startedAt.replace('T', ' ')}`}
        </p>
        {cautions.length > 0 && (
          <div class="care">
            <ul>
              {cautions.map((caution) => (
                <li key={caution}>{caution}</li>
              ))}
            </ul>
          </div>
        )}
        <NightFigures night={night} />
        <p class="small">
          This page only counts, by the rules shown. It looks for no pattern and draws no conclusion. The team that
          knows the person judges what the night means. A good night does not exclude raised carbon dioxide.
        </p>
      </section>
      <section aria-labelledby="trace-title">
        <h2 id="trace-title">The trace</h2>
        <TraceView night={night} />
        <details>
          <summary>The same in a table, by the hour</summary>
          <HourTable night={night} />
        </details>
        <details>
          <summary>What was left out, and how the file was read</summary>
          <h3>Left out of every figure</h3>
          <LeftOut night={night} />
          <h3>How the file was read</h3>
          <ul>
            {understood.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
          <p class="small">If a column or a date is wrong, the figures are wrong too. Clear the recording.</p>
        </details>
      </section>
      <ToVisit night={night} base={base} />
    </>
  );
}

interface ProblemsProps {
  name: string;
  problems: FileProblem[];
  onAnswer: (question: keyof Answers, value: string) => void;
}

function Problems({ name, problems, onAnswer }: ProblemsProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), [problems]);
  return (
    <section class="care" aria-labelledby="problem-title">
      <h2 id="problem-title" ref={heading} tabIndex={-1}>
        {problems.some(({ question }) => question) ? 'A question about the file' : 'The file could not be read'}
      </h2>
      {problems.map(({ line, byte, message, question }) => (
        <div key={message}>
          <p>
            {name}
            {line !== undefined ? `, line ${line}` : byte !== undefined ? `, byte ${byte}` : ''}: {message}.
          </p>
          {question && (
            <p class="entry">
              {question.choices.map(({ value, label }) => (
                <button key={value} type="button" onClick={() => onAnswer(question.sets, value)}>
                  {label}
                </button>
              ))}
            </p>
          )}
        </div>
      ))}
    </section>
  );
}
