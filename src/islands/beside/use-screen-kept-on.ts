import { useEffect } from 'preact/hooks';

/** Asks that the screen stay lit, where the device can; it lets go when covered, so it is asked again on coming back. */
export function useScreenKeptOn(wanted: boolean): void {
  useEffect(() => {
    if (!wanted || !('wakeLock' in navigator)) return;
    let lock: WakeLockSentinel | undefined;
    let current = true;
    const ask = () => {
      if (document.hidden) return;
      // Refused on a low battery: the session goes on, the screen may dim.
      navigator.wakeLock.request('screen').then(
        (given) => {
          if (current) lock = given;
          else void given.release();
        },
        () => undefined,
      );
    };
    ask();
    document.addEventListener('visibilitychange', ask);
    return () => {
      current = false;
      document.removeEventListener('visibilitychange', ask);
      void lock?.release();
    };
  }, [wanted]);
}
