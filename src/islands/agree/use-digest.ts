import { useEffect, useState } from 'preact/hooks';
import type { Agreement } from '../../../calculators/agreement/agreement.ts';
import { digestWords } from '../../../calculators/agreement/digest.ts';
import { digestOf } from '../../agreement/digest.ts';

/** @returns undefined while it is being worked out; else the digest, or none where this browser works out none */
export function useDigest(agreement: Agreement): { digest: string | undefined } | undefined {
  const [found, setFound] = useState<{ of: Agreement; digest: string | undefined }>();
  useEffect(() => {
    let current = true;
    void digestOf(agreement).then((digest) => current && setFound({ of: agreement, digest }));
    return () => {
      current = false;
    };
  }, [agreement]);
  // Between two drawings, the digest at hand can still be that of another agreement.
  return found?.of === agreement ? found : undefined;
}

/** 'Digest ba78 16bf ...', at the start of a sentence */
export const digestFirst = (found: { digest: string | undefined } | undefined): string =>
  found === undefined
    ? 'Calculating the digest'
    : digestWords(found.digest).replace(/^./, (first) => first.toUpperCase());
