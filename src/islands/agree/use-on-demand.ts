import { useEffect, useState } from 'preact/hooks';

/** A part of the screen that is fetched once the page is there: what a reader sees first does not wait for it. */
export function useOnDemand<T>(load: () => Promise<T>): T | undefined {
  const [part, setPart] = useState<{ is: T }>();
  useEffect(() => {
    void load().then((is) => setPart({ is }));
  }, []);
  return part?.is;
}
