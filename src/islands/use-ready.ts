import { useEffect, useState } from 'preact/hooks';

/** True once the script runs in the reader's browser. Until then fields stay disabled and no result is shown. */
export function useReady(): boolean {
  const [ready, setReady] = useState(false);
  useEffect(() => setReady(true), []);
  return ready;
}

/**
 * A value that follows another once it has stopped changing for a moment, so that a screen reader announces it once.
 */
export function useSettled<T>(value: T, milliseconds = 700): T {
  const [settled, setSettled] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), milliseconds);
    return () => clearTimeout(timer);
  }, [value, milliseconds]);
  return settled;
}
