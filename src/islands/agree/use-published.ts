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
      () =>
        setLoaded({ problem: 'The published criteria could not be loaded. Open this page again when you are online' }),
    );
  }, [base]);
  return loaded;
}

/** Said while a screen cannot work yet, or cannot work at all. */
export const waitingWords = ({ problem }: Loaded): string =>
  problem ??
  'This page needs JavaScript and the published criteria. Until JavaScript and the criteria have loaded, you cannot use this page.';
