import { useEffect, useState } from 'preact/hooks';
import type { RawInputs } from '../../../calculators/calculator.ts';
import {
  goOnFrom,
  type Moment,
  momentAt,
  type Phase,
  type SessionOrder,
  sessionLength,
} from '../../../calculators/planning/paced-session.ts';
import { convert, type UnitCode } from '../../../calculators/quantity.ts';
import css from '../../styles/pacer.css?inline';
import type { BesideProps } from './beside.ts';
import { useScreenKeptOn } from './use-screen-kept-on.ts';
import { wear } from './wear.ts';

wear(css);

const words: Record<Phase, string> = { in: 'In', out: 'Out', pause: 'Pause', rest: 'Rest' };

/** Running: when it would have begun had it never been halted. Halted: how far it had come. All by the clock, in ms. */
type Run = { state: 'ready' } | { state: 'going'; began: number } | { state: 'halted'; at: number };

/** An order that has changed is another session: nothing of the one before goes on. */
export default function SessionPacer({ calculator, inputs }: BesideProps) {
  const order = orderOf(inputs);
  return (
    <Pacer
      key={JSON.stringify(order)}
      order={order}
      stopSigns={[...(calculator.before ?? []), ...calculator.cautions.slice(0, 1)]}
    />
  );
}

function Pacer({ order, stopSigns }: { order: SessionOrder; stopSigns: readonly string[] }) {
  const [run, setRun] = useState<Run>({ state: 'ready' });
  const [now, setNow] = useState(0);
  const [covered, setCovered] = useState('');
  const length = sessionLength(order);
  const seconds = run.state === 'going' ? (now - run.began) / 1000 : run.state === 'halted' ? run.at / 1000 : 0;
  const moment = momentAt(order, seconds);
  const over = run.state !== 'ready' && !moment;
  useScreenKeptOn(run.state === 'going' && !over);

  useEffect(() => {
    if (run.state !== 'going' || over) return;
    // Ticks only redraw. The place in the session comes from the clock, so a late or lost tick shifts nothing.
    const timer = setInterval(() => setNow(Date.now()), 100);
    let hiddenAt: number | undefined;
    const watch = () => {
      if (document.hidden) hiddenAt = Date.now();
      else if (hiddenAt !== undefined) {
        const away = Math.round((Date.now() - hiddenAt) / 1000);
        hiddenAt = undefined;
        setNow(Date.now());
        if (away >= 2) setCovered(`The screen was hidden for ${away} seconds. The timer kept running.`);
      }
    };
    document.addEventListener('visibilitychange', watch);
    return () => {
      clearInterval(timer);
      document.removeEventListener('visibilitychange', watch);
    };
  }, [run, over]);

  const goFrom = (at: number) => {
    setCovered('');
    setNow(Date.now());
    setRun({ state: 'going', began: Date.now() - at });
  };
  const main = () => {
    if (run.state === 'going' && !over) setRun({ state: 'halted', at: Date.now() - run.began });
    else if (run.state === 'halted' && !over) goFrom(goOnFrom(order, seconds) * 1000);
    else goFrom(0);
  };
  const going = run.state === 'going' && !over;

  return (
    <section class="pacer" aria-label="Follow the session on the screen" data-state={over ? 'over' : run.state}>
      <p class="small">
        {Math.round(length / 6) / 10} minutes, using the order above. If the machine's own timing differs, follow the
        machine and check its settings against the order.
      </p>
      {stopSigns.map((sign) => (
        <p key={sign} class="care">
          {sign}
        </p>
      ))}
      {run.state !== 'ready' && (
        <div aria-hidden="true">
          {moment ? <Now moment={moment} order={order} halted={run.state === 'halted'} /> : <p class="phase">Done</p>}
        </div>
      )}
      <p class="hidden" role="status">
        {spoken(run.state, moment, order)}
      </p>
      {covered && <p class="small">{covered}</p>}
      <div class="taps">
        <button type="button" class="main" onClick={main}>
          {going ? 'Pause' : run.state === 'halted' && !over ? 'Go on' : over ? 'Start again' : 'Start the session'}
        </button>
        {run.state !== 'ready' && !over && (
          <button type="button" onClick={() => setRun({ state: 'ready' })}>
            Stop
          </button>
        )}
      </div>
    </section>
  );
}

function Now({ moment, order, halted }: { moment: Moment; order: SessionOrder; halted: boolean }) {
  const { phase, set, cycle, gone, length } = moment;
  return (
    <>
      <p class="phase">
        {words[phase]}
        {halted && ' (paused)'}
      </p>
      <Bar moment={moment} />
      <p class="place">
        {phase === 'rest'
          ? `${Math.ceil(length - gone)} seconds left. Then set ${set + 1} of ${order.sets}`
          : `Breath ${cycle} of ${order.cycles}, set ${set} of ${order.sets}`}
      </p>
    </>
  );
}

/** Fills while the breath goes in and empties while it goes out; by whole steps where motion is not wanted. */
function Bar({ moment: { phase, gone, length } }: { moment: Moment }) {
  const still = matchMedia('(prefers-reduced-motion: reduce)').matches;
  const steps = still ? Math.min(4, Math.max(1, Math.ceil(length))) : 100;
  const share = Math.min(steps, Math.floor((gone / length) * steps) + (still ? 1 : 0)) / steps;
  const full = phase === 'in' ? share : phase === 'pause' ? 0 : 1 - share + (still ? 1 / steps : 0);
  return (
    <svg class={`bar ${phase}`} viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
      <rect class="track" width="100" height="10" />
      <rect class="level" width={Math.round(full * 100)} height="10" />
    </svg>
  );
}

/** A change of phase, once. The text stays the same through the phase, so seconds are never read out. */
function spoken(state: Run['state'], moment: Moment | undefined, order: SessionOrder): string {
  if (state === 'ready') return '';
  if (!moment) return `The session is done: ${order.sets * order.cycles} breaths`;
  if (state === 'halted') return 'Paused';
  const { phase, set, cycle, length } = moment;
  if (phase === 'rest') return `Rest, ${length} seconds`;
  return phase === 'in' ? `${cycle === 1 ? `Set ${set}. ` : ''}Breath ${cycle}: in` : words[phase];
}

function orderOf(inputs: RawInputs): SessionOrder {
  const read = (name: keyof SessionOrder, unit: UnitCode): number => {
    const given = inputs[name];
    return typeof given === 'object' && given !== null && 'value' in given
      ? convert(given.value, given.unit as UnitCode, unit)
      : Number(given);
  };
  return {
    sets: read('sets', '{count}'),
    cycles: read('cycles', '{count}'),
    timeIn: read('timeIn', 's'),
    timeOut: read('timeOut', 's'),
    pause: read('pause', 's'),
    rest: read('rest', 's'),
  };
}
