import { useEffect, useState } from 'preact/hooks';

/** True once the script runs in the reader's browser. Until then fields stay disabled and no result is shown. */
export function useReady(): boolean {
  const [ready, setReady] = useState(false);
  useEffect(() => setReady(true), []);
  return ready;
}

/** A value that follows another after it has been quiet for a moment: what a screen reader is told, once. */
export function useSettled<T>(value: T, milliseconds = 700): T {
  const [settled, setSettled] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), milliseconds);
    return () => clearTimeout(timer);
  }, [value, milliseconds]);
  return settled;
}
