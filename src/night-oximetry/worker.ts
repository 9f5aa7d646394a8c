/** Reads a night off the main thread, so that the page stays alive with twelve hours at four values a second. The file never leaves the device. */
import type { FromWorker, ToWorker } from './messages.ts';
import { nightOf } from './read-file.ts';

const page = self as unknown as { postMessage: (message: FromWorker) => void };

self.addEventListener('message', async ({ data }: MessageEvent<ToWorker>) => {
  const progress = (doing: string, share: number) => page.postMessage({ kind: 'progress', doing, share });
  try {
    progress('Opening the file', 0);
    const bytes = await data.file.arrayBuffer();
    progress('Reading the rows', 0.1);
    page.postMessage(nightOf(bytes, data.answers, (share) => progress('Reading the rows', 0.1 + 0.8 * share)));
  } catch (error) {
    // The readers do not throw; memory that runs out and a file that was taken away do.
    page.postMessage({
      kind: 'problems',
      problems: [
        {
          message: `The file could not be read on this device: ${error instanceof Error ? error.message : 'no reason given'}`,
        },
      ],
    });
  }
});
