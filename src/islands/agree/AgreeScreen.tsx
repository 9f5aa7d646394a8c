import '../../styles/form.css';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { onEvidence } from '../../../calculators/agreement/agreed-evidence.ts';
import type { Agreement } from '../../../calculators/agreement/agreement.ts';
import type { ReadAgreement } from '../../../calculators/agreement/read-agreement.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { hasBuiltIn, kept, switchTo } from '../../agreement/store.ts';
import { today } from '../../browser/today.ts';
import { useAgreement, useSwitchedOff } from '../use-agreement.ts';
import { useReady, useSettled } from '../use-ready.ts';
import { ChangedEvidence } from './Difference.tsx';
import {
  blankDraft,
  type Draft,
  draftOf,
  fieldWords,
  newDraft,
  readDraft,
  readDraftAs,
  whenDraftChanges,
  writeDraft,
} from './draft.ts';
import { HeaderFields } from './HeaderFields.tsx';
import { decisionTitle, MarkLine } from './MarkLine.tsx';
import { Marks } from './Marks.tsx';
import { Share } from './Share.tsx';
import { usePublished, waitingWords } from './use-published.ts';

/** The screen that a team decides on. What is typed stays on this device until it is cleared. */
export function AgreeScreen({ base }: { base: string }) {
  const ready = useReady();
  const loaded = usePublished(base);
  const { published } = loaded;
  const inForce = useAgreement();
  const switchedOff = useSwitchedOff();
  const [draft, setDraft] = useState<Draft>(blankDraft);

  useEffect(() => {
    setDraft(readDraft() ?? newDraft());
    return whenDraftChanges((next) => setDraft(next ?? newDraft()));
  }, []);
  // Two changes before the next drawing build on each other.
  const latest = useRef(draft);
  latest.current = draft;
  const change = (next: Partial<Draft>) => {
    latest.current = { ...latest.current, ...next };
    setDraft(latest.current);
    writeDraft(latest.current);
  };
  const startFrom = (next: Draft | undefined) => {
    if (draft.marks.length > 0 && !confirm('Clear what is on this screen?')) return;
    setDraft(next ?? newDraft());
    writeDraft(next);
  };

  const settled = useSettled(draft, 300);
  const read = useMemo(() => published && readDraftAs(settled, published), [settled, published]);
  const agreement = useMemo(
    () => (read?.ok && published ? onEvidence(read.agreement, published, published.data.date) : undefined),
    [read, published],
  );

  return (
    <form method="dialog" class="agree" onSubmit={(event) => event.preventDefault()} autocomplete="off">
      <fieldset disabled={!ready || !published}>
        {!(ready && published) && <p class="care late">{waitingWords(loaded)}</p>}
        {inForce && <InForce agreement={inForce} published={published} base={base} />}
        {switchedOff && (
          <section aria-labelledby="off-title">
            <h2 id="off-title">Switched off on this device</h2>
            <p>{switchedOff}. Only published marks are shown.</p>
            <div class="entry">
              <button type="button" onClick={() => switchTo(true)}>
                Switch on again
              </button>
            </div>
          </section>
        )}
        <div class="entry">
          {inForce && (
            <button type="button" onClick={() => startFrom(draftOf(inForce))}>
              Start from the one in force
            </button>
          )}
          <button type="button" onClick={() => startFrom(undefined)}>
            Start from nothing
          </button>
        </div>
        <section aria-labelledby="clinic-title">
          <h2 id="clinic-title">The clinic</h2>
          <HeaderFields draft={draft} published={published} onChange={change} />
        </section>
        <section aria-labelledby="marks-title">
          <h2 id="marks-title">The marks</h2>
          {published && <Marks draft={draft} published={published} onChange={change} />}
        </section>
        {published && read && (
          <section aria-labelledby="check-title" class="checked">
            <h2 id="check-title">What has been agreed</h2>
            <AgreedList draft={draft} published={published} onChange={change} />
            <Check read={read} agreement={agreement} base={base} />
          </section>
        )}
      </fieldset>
    </form>
  );
}

function InForce({
  agreement,
  published,
  base,
}: {
  agreement: Agreement;
  published: PublishedHere | undefined;
  base: string;
}) {
  const { clinic, agreed, review, marks } = agreement;
  const opened = kept()?.agreement !== undefined;
  return (
    <section aria-labelledby="force-title">
      <h2 id="force-title">In force on this device</h2>
      <p>
        {clinic}, agreed {agreed}: {marks.length === 1 ? 'one mark' : `${marks.length} marks`}. Review{' '}
        {review < today() ? 'was due' : 'due'} {review}.{!opened && ' It is built into this copy of the handbook.'}{' '}
        <a href={`${base}agree/compare/`}>Beside the published marks</a>
      </p>
      {opened && hasBuiltIn && (
        <p>
          It was opened on this device, in place of the one built into this copy.{' '}
          <a href={`${base}agree/open/#built-in`}>Go back to the built-in one</a>
        </p>
      )}
      {published && <ChangedEvidence agreement={agreement} published={published} />}
      <Share agreement={agreement} base={base} />
    </section>
  );
}

function AgreedList({
  draft,
  published,
  onChange,
}: {
  draft: Draft;
  published: PublishedHere;
  onChange: (next: Partial<Draft>) => void;
}) {
  if (draft.marks.length === 0) return <p>No mark yet. Open a decision above.</p>;
  const decisions = [...new Set(draft.marks.map(({ decision }) => decision))];
  return (
    <>
      {decisions.map((decision) => (
        <div key={decision}>
          <h3>{decisionTitle(decision, published)}</h3>
          <ul class="agreed-list">
            {draft.marks
              .filter((mark) => mark.decision === decision)
              .map((mark) => (
                <li key={mark.id}>
                  <MarkLine mark={mark} published={published} />
                  <button
                    type="button"
                    onClick={() => onChange({ marks: draft.marks.filter((one) => one.id !== mark.id) })}
                  >
                    Take out
                  </button>
                </li>
              ))}
          </ul>
        </div>
      ))}
    </>
  );
}

/** Live: what is still missing, or the ways to hand it on. */
function Check({ read, agreement, base }: { read: ReadAgreement; agreement: Agreement | undefined; base: string }) {
  if (!read.ok || !agreement)
    return (
      <div class="care" role="status">
        <p>
          <strong>Still to do before it can be handed on:</strong>
        </p>
        <ul>
          {(read.ok ? [] : read.problems).map(({ path, message }) => (
            <li key={path + message}>
              {fieldWords(path)}: {/found (nothing|none|"")$/.test(message) ? 'to be filled in' : message}
            </li>
          ))}
        </ul>
      </div>
    );
  return (
    <>
      <p role="status">
        {agreement.marks.length === 1 ? 'One mark' : `${agreement.marks.length} marks`}, complete. Nothing is in force
        until you put it in force, on each device.
      </p>
      <Share agreement={agreement} base={base} />
      <div class="entry">
        <a class="button" href={`${base}agree/sign/#draft`}>
          Sign-off paper
        </a>
        <a class="button" href={`${base}agree/open/#draft`}>
          Put in force on this device
        </a>
      </div>
    </>
  );
}
