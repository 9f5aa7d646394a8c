/** An engine other than Chromium's, and how to start a reader in it. */
import type { Wire } from './client.ts';

export interface Engine {
  name: string;
  /** packages of Debian that bring it */
  packages: string[];
  /** whether everything that it needs is on this machine */
  found: () => boolean;
  /** whether its driver can print */
  prints: boolean;
  start: () => Promise<{ open: () => Promise<Wire>; stop: () => Promise<void> }>;
}
