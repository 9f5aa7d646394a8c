import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { visitParts } from '../../../calculators/domain/visit-parts.ts';
import type { AskedPart, SheetPart } from '../../../calculators/evaluate/short-visit.ts';
import { personChanged } from '../../person/store.ts';
import { DidItHappen } from './DidItHappen.tsx';
import type { Entries } from './entries.ts';
import type { SheetData } from './evidence-data.ts';
import { Part, restOf, sheetParts } from './Part.tsx';
import { isAnswered, isDone } from './part-state.ts';
import type { SheetState } from './sheet-state.ts';
import type { Results } from './use-results.ts';

interface Props {
  data: SheetData;
  sheet: SheetState;
  results: Results;
  base: string;
  onChange: (changes: Partial<Entries>) => void;
}

type Opened = Partial<Record<SheetPart, boolean>>;
const nothing: AskedPart = { short: [], ticks: [], rest: [] };

/**
 * What is measured and asked, in the order of a visit; first what came of the last visit's plan. A part that is done closes
 * once the reader goes on to another one; one that the reader opened stays open.
 */
export function VisitParts({ data, sheet: { entries }, results, base, onChange }: Props) {
  const { last, asked, visit } = results;
  const [opened, setOpened] = useState<Opened>({});
  const [more, setMore] = useState<Opened>({});
  useEffect(() => {
    const next = (event: Event) => {
      if (!(event instanceof CustomEvent) || event.detail !== 'next') return;
      setOpened({});
      setMore({});
    };
    addEventListener(personChanged, next);
    return () => removeEventListener(personChanged, next);
  }, []);
  const { current, followed } = useCurrentPart();
  const shown = sheetParts(visitParts).map((part) => ({ part, of: asked.get(part) ?? nothing }));
  const isShort = ({ of: { short, ticks } }: { of: AskedPart }) => short.length + ticks.length > 0;
  const draw = ({ part, of }: (typeof shown)[number]) => {
    const isOpen = isShort({ of }) && (part === current || !isDone(of, entries, data.measures));
    // What was entered in a fold is in sight when the sheet is opened again.
    const inRest = restOf(part, of, data, entries).some((id) => isAnswered(id, entries, data.measures));
    return (
      <Part
        key={part}
        part={part}
        asked={of}
        open={opened[part] ?? (isOpen || (!isShort({ of }) && inRest))}
        moreOpen={more[part] ?? inRest}
        onOpen={(open) => setOpened({ ...opened, [part]: open })}
        onMore={(open) => setMore({ ...more, [part]: open })}
        {...{ data, entries, visit, last, base, onChange }}
      />
    );
  };
  const others = shown.filter((one) => !isShort(one) && restOf(one.part, one.of, data, entries).length > 0);
  return (
    <div class="parts" {...followed}>
      {last.visit && (
        <DidItHappen
          planned={last.visit.plan}
          since={last.visit.date}
          plan={entries.plan}
          onPlan={(plan) => onChange({ plan })}
        />
      )}
      {shown.filter(isShort).map(draw)}
      {others.length > 0 && <h2 class="add-more">Add more</h2>}
      {others.map(draw)}
    </div>
  );
}

/**
 * The part that the reader is in, followed by taps and by the keyboard. When a part above closes, the page is moved by as
 * much, so that nothing jumps under a thumb.
 */
function useCurrentPart() {
  const [current, setCurrent] = useState<SheetPart>();
  const anchor = useRef<{ element: HTMLElement; top: number }>();
  const follow = ({ target }: Event) => {
    const element = target as HTMLElement;
    const part = element.closest<HTMLElement>('.part[data-part]')?.dataset.part as SheetPart | undefined;
    if (part === undefined || part === current) return;
    // Once the tap is over and its answer taken: drawn again in between, a chip would lose the answer, and a field that moved
    // between press and release would lose the tap.
    setTimeout(() => {
      anchor.current = { element, top: element.getBoundingClientRect().top };
      setCurrent(part);
    });
  };
  useLayoutEffect(() => {
    const held = anchor.current;
    anchor.current = undefined;
    if (held?.element.isConnected)
      scrollBy({ top: held.element.getBoundingClientRect().top - held.top, behavior: 'instant' });
  }, [current]);
  return { current, followed: { onClick: follow, onKeyUp: follow } };
}
