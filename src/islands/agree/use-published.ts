import { useEffect, useState } from 'preact/hooks';
import { type PublishedHere, published } from '../../agreement/published.ts';

export interface Loaded {
  published?: PublishedHere;
  problem?: string;
}

export function usePublished(base: string): Loaded {
  const [loaded, setLoaded] = useState<Loaded>({});
  useEffect(() => {
    published(base).then(
      (found) => setLoaded({ published: found }),
      () => setLoaded({ problem: 'The published criteria could not be fetched. Open this page again with a signal' }),
    );
  }, [base]);
  return loaded;
}

/** Said while a screen cannot work yet, or cannot work at all. */
export const waitingWords = ({ problem }: Loaded): string =>
  problem ?? 'This page needs its script and the published criteria. Until they have come, nothing can be set here.';
