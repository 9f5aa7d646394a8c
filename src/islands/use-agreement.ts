import { useEffect, useState } from 'preact/hooks';
import type { Agreement } from '../../calculators/agreement/agreement.ts';
import { inForce } from '../agreement/in-force.ts';
import { agreementChanged, kept, line } from '../agreement/store.ts';

/** The agreement in force on this device, and whatever another tab makes of it. */
export function useAgreement(): Agreement | undefined {
  const [agreement, setAgreement] = useState<Agreement>();
  useEffect(() => {
    const load = () => void inForce().then(setAgreement);
    load();
    addEventListener(agreementChanged, load);
    return () => removeEventListener(agreementChanged, load);
  }, []);
  return agreement;
}

/**
 * @returns clinic and date of an agreement, opened on this device or built in, that the reader switched off, where
 * there is one
 */
export function useSwitchedOff(): string | undefined {
  const [words, setWords] = useState<string>();
  useEffect(() => {
    const look = () => {
      const now = kept();
      const { clinic, agreed } = now?.agreement ?? line?.dataset ?? {};
      setWords(now?.on === false && !now.unreadable && clinic ? `${clinic}, agreed ${agreed}` : undefined);
    };
    look();
    addEventListener(agreementChanged, look);
    return () => removeEventListener(agreementChanged, look);
  }, []);
  return words;
}
