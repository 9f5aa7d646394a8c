import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import { withoutWords } from '../../../calculators/agreement/agreed-evidence.ts';
import { type Agreement, agreementText } from '../../../calculators/agreement/agreement.ts';
import type { Code } from '../../agreement/code.ts';
import { asFile, saveFile } from '../../agreement/file.ts';
import { codeFragment, linkFragment, longestLink, mostInCode, pack } from '../../agreement/link.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import type { OtherForm } from './other-forms.ts';
import { digestFirst, useDigest } from './use-digest.ts';

interface Packed {
  link: string;
  /** address for the QR code */
  code: string;
  /** of what the QR code holds */
  bytes: number;
}

/** The agreement as an address: undefined while it is being packed, and null in a browser that cannot pack one. */
export function usePacked(agreement: Agreement | undefined, base: string): Packed | null | undefined {
  const [packed, setPacked] = useState<Packed | null>();
  useEffect(() => {
    let current = true;
    setPacked(undefined);
    if (agreement)
      // What each published criterion said is left out: a phone with the same evidence writes it anew.
      pack(withoutWords(agreement)).then(
        (bytes) => {
          const page = `${location.origin}${base}agree/open/`;
          if (current)
            setPacked({ link: page + linkFragment(bytes), code: page + codeFragment(bytes), bytes: bytes.length });
        },
        () => {
          if (current) setPacked(null);
        },
      );
    return () => {
      current = false;
    };
  }, [agreement, base]);
  return packed;
}

/** Handing an agreement on: a file, a link, a code on a screen or on paper. */
export function Share({
  agreement,
  published,
  base,
}: {
  agreement: Agreement;
  published: PublishedHere | undefined;
  base: string;
}) {
  const packed = usePacked(agreement, base);
  const digest = useDigest(agreement);
  const [said, setSaid] = useState('');
  const [code, setCode] = useState(false);
  useEffect(() => setSaid(''), [agreement]);
  const copy = async () => {
    if (!packed) return;
    try {
      await navigator.clipboard.writeText(packed.link);
      setSaid('The link is copied');
    } catch {
      setSaid('This browser does not allow copying. Use the file or the code');
    }
  };
  const { canShare, share, out } = useSharing(agreement, published, digest?.digest, setSaid);
  const linkFits = packed != null && packed.link.length <= longestLink;
  const codeFits = packed != null && packed.bytes <= mostInCode;
  return (
    <>
      <p class="small">
        {digestFirst(digest)}. File {count(agreementText(agreement).length)} characters
        {packed
          ? `; link ${count(packed.link.length)} characters`
          : packed === null && '; this browser cannot make a link, so use the file'}
        . The link carries the agreement after its #. That part is never sent to a server.
      </p>
      {packed && !linkFits && (
        <p class="care">
          The link has {count(packed.link.length)} characters. Messages cut links longer than {count(longestLink)}, so
          use the file.
        </p>
      )}
      <div class="entry">
        <button type="button" class="main" onClick={() => saveFile(agreement)}>
          Save as a file
        </button>
        {canShare && (
          <button type="button" onClick={share}>
            Share
          </button>
        )}
        <button type="button" disabled={!linkFits} onClick={copy}>
          Copy a link
        </button>
        <button type="button" disabled={!codeFits} aria-expanded={code} onClick={() => setCode(!code)}>
          {code ? 'Hide the QR code' : 'Show a QR code'}
        </button>
        <span role="status">{said}</span>
      </div>
      {packed && !codeFits && (
        <p class="small">
          It has {count(packed.bytes)} bytes, and a QR code that a phone can read holds {count(mostInCode)}. Use the
          link or the file.
        </p>
      )}
      <OtherForms onAsk={(what) => void out(what)} />
      {code && packed && codeFits && <QrCode address={packed.code} />}
    </>
  );
}

/** The share button of the browser, and the other forms that an agreement is handed out in. */
function useSharing(
  agreement: Agreement,
  published: PublishedHere | undefined,
  digest: string | undefined,
  setSaid: (words: string) => void,
) {
  const file = useMemo(() => asFile(agreement), [agreement]);
  const canShare = globalThis.navigator?.canShare?.({ files: [file] }) === true;
  const share = async () => {
    try {
      await navigator.share({ title: file.name, files: [file] });
    } catch (error) {
      // Closing the choice without one is no failure.
      if ((error as Error).name !== 'AbortError') setSaid('This browser could not share it. Save the file and send it');
    }
  };
  const out = async (what: OtherForm) => {
    if (!published) return;
    const { saveAs, minutesToCopy } = await import('./other-forms.ts');
    if (what !== 'text') return saveAs(what, agreement, published, digest);
    try {
      await navigator.clipboard.writeText(minutesToCopy(agreement, published, digest));
      setSaid('The minutes are copied');
    } catch {
      setSaid('This browser does not allow copying. Save the minutes as a document');
    }
  };
  return { canShare, share, out };
}

function OtherForms({ onAsk }: { onAsk: (form: OtherForm) => void }) {
  return (
    <details class="other-forms">
      <summary>Minutes, spreadsheet, calendar</summary>
      <div class="entry">
        <button type="button" onClick={() => onAsk('text')}>
          Copy the minutes as text
        </button>
        <button type="button" onClick={() => onAsk('minutes')}>
          Save the minutes as a document
        </button>
        <button type="button" onClick={() => onAsk('csv')}>
          Save as a spreadsheet
        </button>
        <button type="button" onClick={() => onAsk('calendar')}>
          Save the review date for a calendar
        </button>
      </div>
    </details>
  );
}

export function QrCode({ address }: { address: string }) {
  const [code, setCode] = useState<Code>();
  useEffect(() => {
    let current = true;
    void import('../../agreement/code.ts').then(({ codeOf }) => current && setCode(codeOf(address)));
    return () => {
      current = false;
    };
  }, [address]);
  const figure = useRef<HTMLElement>(null);
  const [room, setRoom] = useState(0);
  useLayoutEffect(() => {
    const measure = () => setRoom(figure.current?.clientWidth ?? 0);
    measure();
    addEventListener('resize', measure);
    return () => removeEventListener('resize', measure);
  }, [code]);
  if (!code) return null;
  const edge = code.size + 8;
  const width = squareWidth(room, edge) * edge;
  return (
    <figure class="code" ref={figure}>
      {/* Black on white by day and by night: a camera needs the contrast and the margin. */}
      <svg
        viewBox={`-4 -4 ${edge} ${edge}`}
        width={width}
        height={width}
        role="img"
        aria-label="QR code that opens this agreement"
        data-address={address}
      >
        <rect x="-4" y="-4" width={edge} height={edge} fill="#fff" />
        <path d={code.path} fill="#000" shape-rendering="crispEdges" />
      </svg>
      <figcaption class="small">
        {code.size} squares across. It opens {new URL(address).host}, where the phone asks before anything changes. On
        paper, print it at least {Math.ceil(code.size / 20)} cm wide.
      </figcaption>
    </figure>
  );
}

/**
 * How wide a square of the code is drawn, in CSS pixels. Always a whole number of the screen's own dots: with squares of
 * five dots beside squares of six, about one code in three could not be read from a screen (tried with an independent
 * decoder; with whole dots, all of 63).
 */
function squareWidth(room: number, squares: number): number {
  const dotsAcross = Math.min(Math.floor((room * devicePixelRatio) / squares), Math.ceil(4 * devicePixelRatio));
  return Math.max(1, dotsAcross) / devicePixelRatio;
}

const count = (number: number): string => String(number).replace(/\B(?=(\d{3})+$)/g, ',');
