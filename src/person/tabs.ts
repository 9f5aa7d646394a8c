/** 'Next person' in one tab clears the others too: the next reader opens any of them. */
import { base } from '../browser/base.ts';

let others: BroadcastChannel | undefined;

/** Closed while a page is only kept for the Back button: some browsers keep no page with an open channel. */
export function hearOtherTabs(next: () => void): void {
  if (!('BroadcastChannel' in globalThis)) return;
  const open = () => {
    others?.close();
    others = new BroadcastChannel(`tidemark:next:${base}`);
    others.onmessage = next;
  };
  open();
  addEventListener('pageshow', open);
  addEventListener('pagehide', () => others?.close());
}

export const tellOtherTabs = (): void => others?.postMessage('next');
