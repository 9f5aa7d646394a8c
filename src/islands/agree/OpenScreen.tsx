import '../../styles/form.css';
import { useEffect, useState } from 'preact/hooks';
import { onEvidence, withWords } from '../../../calculators/agreement/agreed-evidence.ts';
import { type Agreement, agreementText, hiddenCharacter } from '../../../calculators/agreement/agreement.ts';
import { editionWords } from '../../../calculators/agreement/digest.ts';
import {
  problemWords,
  type ReadAgreement,
  readAgreement,
  refusalWords,
} from '../../../calculators/agreement/read-agreement.ts';
import { statusSentence } from '../../../calculators/agreement/status.ts';
import { digestOf } from '../../agreement/digest.ts';
import { editionHere } from '../../agreement/edition.ts';
import { readFile } from '../../agreement/file.ts';
import { builtIn } from '../../agreement/in-force.ts';
import { fragmentIn, unpack } from '../../agreement/link.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { recount } from '../../agreement/recount.ts';
import { putInForce, shelf } from '../../agreement/shelf.ts';
import { kept } from '../../agreement/store.ts';
import { today } from '../../browser/today.ts';
import { useAgreement } from '../use-agreement.ts';
import { useReady } from '../use-ready.ts';
import { Camera } from './Camera.tsx';
import { ChangedEvidence } from './ChangedEvidence.tsx';
import { Difference } from './Difference.tsx';
import { readDraft, readDraftAs } from './draft.ts';
import { digestFirst, useDigest } from './use-digest.ts';
import { usePublished, waitingWords } from './use-published.ts';

interface Opened {
  /** of the file or link, for messages */
  name: string;
  read: ReadAgreement;
  /** of this copy of the handbook: never kept on the device, so that the next update's takes its place */
  builtIn?: true;
}

const nothingPasted: Opened = {
  name: 'what was pasted',
  read: { ok: false, problems: [{ path: '', message: 'it contains no link to an agreement. Copy the whole message' }] },
};

/** Opening an agreement from anywhere: first what it would change here, line by line; then the question. */
export function OpenScreen({ base }: { base: string }) {
  const ready = useReady();
  const loaded = usePublished(base);
  const { published } = loaded;
  const inForce = useAgreement();
  const [opened, setOpened] = useState<Opened>();
  const [done, setDone] = useState('');
  const [undo, setUndo] = useState<() => void>();

  const show = (found: Opened) => {
    setDone('');
    setUndo(undefined);
    setOpened(found);
  };
  useEffect(() => {
    if (!published) return;
    const open = () =>
      void fromAddress(location.hash, published, base).then((found) => {
        if (found) show(found);
      });
    open();
    addEventListener('hashchange', open);
    return () => removeEventListener('hashchange', open);
  }, [published, base]);

  const pick = async (file: File | undefined) => {
    if (!file || !published) return;
    show({ name: plainName(file.name), read: readAgreement(await readFile(file), published) });
  };
  const close = (words: string) => {
    // What was in the address would ask again at the next reload.
    history.replaceState(null, '', location.pathname);
    setOpened(undefined);
    setDone(words);
  };
  const openPasted = async (pasted: string) => {
    if (!published) return;
    show((await fromAddress(await fragmentIn(pasted), published, base)) ?? nothingPasted);
  };
  const activate = async (found: Agreement) => {
    const agreement = published ? withWords(found, published) : found;
    const digest = await digestOf(agreement);
    const own = opened?.builtIn ? {} : { agreement, ...(digest === undefined ? {} : { digest }) };
    const back = putInForce({ on: true, since: today(), ...own });
    if (back && published) void recount(published);
    setUndo(() => back);
    close(
      back
        ? `In force on this device: ${agreement.clinic}, ${agreement.status === 'draft' ? 'DRAFT of' : 'agreed'} ${agreement.agreed}. ${digest === undefined ? '' : `Digest ${digest}: compare it with the signed paper. `}It can be switched off at the top of any page.`
        : 'The browser could not store it, so nothing has changed. Leave the private window, or allow this site to store data, and open it again',
    );
  };

  return (
    <form method="dialog" class="agree" onSubmit={(event) => event.preventDefault()}>
      <fieldset disabled={!ready || !published}>
        {!(ready && published) && <p class="care late">{waitingWords(loaded)}</p>}
        <div class="field">
          <label for="agree-file">An agreement file</label>
          <div class="entry">
            <input
              id="agree-file"
              type="file"
              accept=".json,application/json"
              onChange={(event) => void pick(event.currentTarget.files?.[0])}
            />
          </div>
        </div>
        <Paste onOpen={(text) => void openPasted(text)} />
        <Camera onRead={(text) => void openPasted(text)} />
        <p role="status" class={done === '' ? '' : 'care'}>
          {done}
        </p>
        {undo && (
          <Undo
            onUndo={() => {
              undo();
              setUndo(undefined);
              setDone('Undone. The agreement used before is in force again.');
            }}
          />
        )}
        {opened && published && (
          <Review
            opened={opened}
            inForce={inForce}
            published={published}
            onYes={(agreement) => void activate(agreement)}
            onNo={() => close('Nothing has changed.')}
          />
        )}
      </fieldset>
    </form>
  );
}

/** A link out of a message: typed by nobody, so whatever stands around it is no harm. */
function Paste({ onOpen }: { onOpen: (text: string) => void }) {
  const [pasted, setPasted] = useState('');
  return (
    <div class="field">
      <label for="agree-paste">Or paste a link, or the whole message that contains it</label>
      <textarea
        id="agree-paste"
        rows={2}
        autocomplete="off"
        spellcheck={false}
        value={pasted}
        onInput={(event) => setPasted(event.currentTarget.value)}
      />
      <div class="entry">
        <button
          type="button"
          disabled={pasted.trim() === ''}
          onClick={() => {
            onOpen(pasted);
            setPasted('');
          }}
        >
          Look at it
        </button>
      </div>
    </div>
  );
}

const Undo = ({ onUndo }: { onUndo: () => void }) => (
  <div class="entry">
    <button type="button" onClick={onUndo}>
      Undo
    </button>
  </div>
);

async function fromAddress(hash: string, published: PublishedHere, base: string): Promise<Opened | undefined> {
  if (hash === '#draft') {
    const draft = readDraft();
    if (!draft) return undefined;
    const read = readDraftAs(draft, published);
    return {
      name: 'the draft on this device',
      read: read.ok
        ? { ...read, agreement: onEvidence(read.agreement, published, published.data.date), warnings: [] }
        : read,
    };
  }
  if (hash === '#built-in') {
    const agreement = await builtIn();
    return agreement && { name: 'the built-in agreement', read: { ok: true, agreement, warnings: [] }, builtIn: true };
  }
  const place = /^#kept-(\d{1,2})$/.exec(hash)?.[1];
  if (place !== undefined) {
    const shelved = shelf()[Number(place)];
    return (
      shelved && { name: 'the agreement used before', read: readAgreement(agreementText(shelved.agreement), published) }
    );
  }
  if (hash === '#demonstration') {
    const response = await fetch(`${base}data/demonstration-agreement.json`);
    return { name: 'the demonstration', read: readAgreement(await response.text(), published) };
  }
  if (!hash.startsWith('#1')) return undefined;
  const unpacked = await unpack(hash);
  return {
    name: 'this link',
    read: unpacked.ok
      ? readAgreement(unpacked.text, published)
      : { ok: false, problems: [{ path: '', message: unpacked.message }] },
  };
}

const plainName = (name: string): string => name.replaceAll(new RegExp(hiddenCharacter, 'gu'), '').slice(0, 80);

interface ReviewProps {
  opened: Opened;
  inForce: Agreement | undefined;
  published: PublishedHere;
  onYes: (agreement: Agreement) => void;
  onNo: () => void;
}

function Review({ opened: { name, read }, inForce, ...rest }: ReviewProps) {
  if (!read.ok)
    return (
      <section class="care" role="alert" aria-labelledby="refused-title">
        <h2 id="refused-title">This cannot be used</h2>
        <p>{inForce ? `The agreement of ${inForce.clinic} stays in force.` : 'No agreement is in force, as before.'}</p>
        <p>{refusalWords(read.problems)}</p>
        <details>
          <summary>What is wrong, item by item ({read.problems.length})</summary>
          <ul class="problems">
            {read.problems.map((problem) => (
              <li key={problem.path + problem.message}>{problemWords(name, problem)}</li>
            ))}
          </ul>
        </details>
      </section>
    );
  return <Question agreement={read.agreement} warnings={read.warnings} inForce={inForce} {...rest} />;
}

interface QuestionProps extends Omit<ReviewProps, 'opened'> {
  agreement: Agreement;
  warnings: string[];
}

/** What was opened, what it changes here, and the question whether to put it in force. */
function Question({ agreement, warnings, inForce, published, onYes, onNo }: QuestionProps) {
  const digest = useDigest(agreement);
  const same = inForce !== undefined && agreementText(inForce) === agreementText(agreement);
  return (
    <section aria-labelledby="opened-title">
      <h2 id="opened-title">{agreement.clinic}</h2>
      <p>
        {agreement.status === 'draft' ? <strong>DRAFT, not agreed.</strong> : null}{' '}
        {agreement.status === 'draft' ? 'Dated' : 'Agreed'} {agreement.agreed} by: {agreement.agreedBy.join(', ')}.{' '}
        {agreement.revision !== undefined && `Revision ${agreement.revision}. `}
        {agreement.status !== 'draft' && statusSentence(agreement)}{' '}
        {agreement.review < today() ? (
          <strong>Its review was due {agreement.review}.</strong>
        ) : (
          `To be reviewed by ${agreement.review}.`
        )}{' '}
        {agreement.agreed > today() && <strong>It is dated in the future.</strong>}
      </p>
      <p>
        {digestFirst(digest)}; {editionWords(editionHere())}.{' '}
        {digest?.digest &&
          'Compare the digest with the signed paper. If every group is the same, the text is the same.'}
      </p>
      {warnings.map((warning) => (
        <p key={warning} class="care">
          {warning}
        </p>
      ))}
      <ChangedEvidence agreement={agreement} published={published} />
      {same ? (
        <p>This agreement is already in force on this device.</p>
      ) : (
        <>
          <h2>What it changes on this device</h2>
          <p>
            {inForce
              ? `It takes the place of the agreement of ${inForce.clinic}, agreed ${inForce.agreed}, ${
                  kept()?.agreement
                    ? 'which stays on this device under \u201cAgreements used before\u201d'
                    : 'which stays built into this copy of the handbook'
                }.`
              : 'No agreement is in force now. Published criteria stay; these are shown beside them.'}
          </p>
          <Difference from={inForce} to={agreement} published={published} />
          <p class="care">
            Check the phone numbers. Put it in force only if it comes from your own clinic, because anyone can write
            such a file.
          </p>
          <div class="entry">
            <button type="button" class="main" onClick={() => onYes(agreement)}>
              Yes, put it in force on this device
            </button>
            <button type="button" onClick={onNo}>
              No, change nothing
            </button>
          </div>
        </>
      )}
    </section>
  );
}
