import '../../styles/form.css';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { lookedAgain, onEvidence } from '../../../calculators/agreement/agreed-evidence.ts';
import type { Agreement } from '../../../calculators/agreement/agreement.ts';
import { twiceToAsk } from '../../../calculators/agreement/meeting.ts';
import type { ReadAgreement } from '../../../calculators/agreement/read-agreement.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { recount } from '../../agreement/recount.ts';
import { switchTo } from '../../agreement/store.ts';
import { today } from '../../browser/today.ts';
import { useAgreement, useSwitchedOff } from '../use-agreement.ts';
import { useReady, useSettled } from '../use-ready.ts';
import { begunFor, forgetBegun } from './begun.ts';
import { ChangedEvidence } from './ChangedEvidence.tsx';
import { CriterionLine, decisionTitle } from './CriterionLine.tsx';
import {
  blankDraft,
  type Draft,
  fieldWords,
  newDraft,
  readDraft,
  readDraftAs,
  revisionDraft,
  whenDraftChanges,
  writeDraft,
} from './draft.ts';
import { HeaderFields } from './HeaderFields.tsx';
import { InForce } from './InForce.tsx';
import { Share } from './Share.tsx';
import { Shelf } from './Shelf.tsx';
import { StatusFields } from './StatusFields.tsx';
import { TwiceList } from './TwiceList.tsx';
import { useOnDemand } from './use-on-demand.ts';
import { usePublished, waitingWords } from './use-published.ts';

/** The screen that a team decides on. What is typed stays on this device until it is cleared. */
export function AgreeScreen({ base }: { base: string }) {
  const ready = useReady();
  const loaded = usePublished(base);
  const { published } = loaded;
  const inForce = useAgreement();
  const switchedOff = useSwitchedOff();
  useEffect(() => {
    if (inForce && published) void recount(published);
  }, [inForce, published]);
  const Meeting = useOnDemand(() => import('./Meeting.tsx'))?.Meeting;
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
    if ((draft.marks.length > 0 || begunFor().length > 0) && !confirm('Clear everything on this screen?')) return;
    forgetBegun();
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
            <p>{switchedOff}. Only published criteria are shown.</p>
            <div class="entry">
              <button type="button" onClick={() => switchTo(true)}>
                Switch on again
              </button>
            </div>
          </section>
        )}
        <Shelf base={base} />
        <div class="entry">
          {inForce && (
            <button type="button" onClick={() => startFrom(revisionDraft(inForce))}>
              Revise the one in force
            </button>
          )}
          <button type="button" onClick={() => startFrom(undefined)}>
            New blank agreement
          </button>
        </div>
        <section aria-labelledby="clinic-title">
          <h2 id="clinic-title">The clinic</h2>
          <HeaderFields draft={draft} published={published} onChange={change} />
        </section>
        <section aria-labelledby="criteria-title">
          <h2 id="criteria-title">The meeting, decision by decision</h2>
          {published && Meeting && <Meeting draft={draft} published={published} onChange={change} />}
        </section>
        {published && read && (
          <section aria-labelledby="check-title" class="checked">
            <h2 id="check-title">What has been agreed</h2>
            <StatusFields draft={draft} onChange={change} />
            {draft.status === 'draft' && draft.marks.length > 0 && <p class="draft-word">DRAFT</p>}
            <ChangedEvidence
              agreement={draft}
              published={published}
              onLooked={(criterion) =>
                change({
                  marks: draft.marks.map((one) =>
                    one.id === criterion.id ? lookedAgain(one, published, today()) : one,
                  ),
                })
              }
            />
            <TwiceList draft={draft} published={published} onChange={change} />
            <AgreedList draft={draft} published={published} onChange={change} />
            <Check read={read} agreement={agreement} published={published} base={base} />
          </section>
        )}
      </fieldset>
    </form>
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
  if (draft.marks.length === 0) return <p>No criterion yet. Open a decision above.</p>;
  const decisions = [...new Set(draft.marks.map(({ decision }) => decision))];
  return (
    <>
      {decisions.map((decision) => (
        <div key={decision}>
          <h3>{decisionTitle(decision, published)}</h3>
          <ul class="agreed-list">
            {draft.marks
              .filter((criterion) => criterion.decision === decision)
              .map((criterion) => (
                <li key={criterion.id}>
                  <CriterionLine criterion={criterion} published={published} />
                  <button
                    type="button"
                    onClick={() => onChange({ marks: draft.marks.filter((one) => one.id !== criterion.id) })}
                  >
                    Remove
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
function Check({
  read,
  agreement,
  published,
  base,
}: {
  read: ReadAgreement;
  agreement: Agreement | undefined;
  published: PublishedHere;
  base: string;
}) {
  if (!read.ok || !agreement)
    return (
      <div class="care" role="status">
        <p>
          <strong>Still to do before you can share it:</strong>
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
        {agreement.marks.length === 1 ? 'One criterion' : `${agreement.marks.length} criteria`}
        {twiceToAsk(agreement, published).length === 0
          ? ', complete. To use it, put it in force on each device.'
          : ', complete except for one answer. Say above whether both thresholds for the same people are meant.'}
      </p>
      <Share agreement={agreement} published={published} base={base} />
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
