import { useEffect, useRef, useState } from 'preact/hooks';
import { canReadCodes, readCode } from '../../agreement/camera.ts';

/** Reads the QR code of an agreement with the camera. Not there where the browser cannot. */
export function Camera({ onRead }: { onRead: (text: string) => void }) {
  const [offered, setOffered] = useState(false);
  const [on, setOn] = useState(false);
  const [said, setSaid] = useState('');
  const video = useRef<HTMLVideoElement>(null);
  const read = useRef(onRead);
  read.current = onRead;

  useEffect(() => {
    let current = true;
    void canReadCodes().then((can) => current && setOffered(can));
    return () => {
      current = false;
    };
  }, []);

  useEffect(() => {
    if (!on || !video.current) return;
    const stop = new AbortController();
    readCode(video.current, stop.signal)
      .then((text) => {
        if (stop.signal.aborted || text === undefined) return;
        setOn(false);
        read.current(text);
      })
      .catch(() => {
        if (stop.signal.aborted) return;
        setOn(false);
        setSaid(
          'The camera could not be used. Allow it for this site, or open the code with the phone\u2019s own camera.',
        );
      });
    return () => stop.abort();
  }, [on]);

  if (!offered) return null;
  return (
    <div class="field camera">
      <div class="entry">
        <button
          type="button"
          onClick={() => {
            setSaid('');
            setOn((now) => !now);
          }}
        >
          {on ? 'Switch the camera off' : 'Read a QR code with the camera'}
        </button>
      </div>
      {on && (
        <>
          {/* Nothing to hear: it shows what the camera sees. */}
          <video ref={video} muted playsInline aria-label="What the camera sees" />
          <p class="small">Hold the code inside the picture. No picture is kept, and none leaves this device.</p>
        </>
      )}
      <p role="status">{said}</p>
    </div>
  );
}
