import { useEffect, useState } from 'preact/hooks';
import type { Agreement } from '../../calculators/criteria/agreement.ts';
import { inForce } from '../agreement/in-force.ts';
import { agreementChanged } from '../agreement/store.ts';

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
