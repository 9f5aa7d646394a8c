/** How a test is taken or a question asked: one tap away, since whoever does it daily knows it. */
export function How({ words }: { words: string | undefined }) {
  if (!words) return null;
  return (
    <details class="how">
      <summary>How</summary>
      <p class="small">{words}</p>
    </details>
  );
}
