/**
 * Reading a QR code with the device's camera, where the browser brings its own reader of codes. No picture leaves the
 * device or is kept: each is looked at and dropped.
 */

interface CodeReader {
  detect(from: HTMLVideoElement): Promise<{ rawValue: string }[]>;
}
interface CodeReaderClass {
  new (options: { formats: string[] }): CodeReader;
  getSupportedFormats?(): Promise<string[]>;
}

const readerClass = (): CodeReaderClass | undefined =>
  (globalThis as { BarcodeDetector?: CodeReaderClass }).BarcodeDetector;

/** Whether this browser can read a QR code from a camera; most on phones with Android can, others hide the button. */
export async function canReadCodes(): Promise<boolean> {
  const reader = readerClass();
  // The types promise it; over plain http it is missing.
  const devices = navigator.mediaDevices as MediaDevices | undefined;
  if (!reader || !devices?.getUserMedia) return false;
  try {
    return (await reader.getSupportedFormats?.())?.includes('qr_code') ?? false;
  } catch {
    return false;
  }
}

/** How often a picture is looked at. */
const every = 200;

const pause = (signal: AbortSignal): Promise<void> =>
  new Promise((resolve) => {
    const timer = setTimeout(resolve, every);
    signal.addEventListener('abort', () => {
      clearTimeout(timer);
      resolve();
    });
  });

/**
 * Shows the camera in `video` until a code is read. The camera is off again when this is over, however it ends.
 *
 * @returns what the code says; undefined when it was stopped first
 * @throws when the camera is refused or there is none
 */
export async function readCode(video: HTMLVideoElement, signal: AbortSignal): Promise<string | undefined> {
  const Reader = readerClass();
  if (!Reader) return undefined;
  const stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } });
  const off = () => {
    for (const track of stream.getTracks()) track.stop();
    video.srcObject = null;
  };
  // At once, also while the first picture is waited for.
  signal.addEventListener('abort', off);
  try {
    if (signal.aborted) return undefined;
    video.srcObject = stream;
    await video.play();
    const reader = new Reader({ formats: ['qr_code'] });
    while (!signal.aborted) {
      const [found] = await reader.detect(video);
      if (found) return found.rawValue;
      await pause(signal);
    }
    return undefined;
  } finally {
    signal.removeEventListener('abort', off);
    off();
  }
}
