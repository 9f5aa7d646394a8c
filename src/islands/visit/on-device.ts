/** Visits kept in this browser: only when the reader asks for it, and gone with one tap. */
const key = 'tidemark:kept-series';

export function readKept(): string | undefined {
  try {
    return localStorage.getItem(key) ?? undefined;
  } catch {
    return undefined;
  }
}

/** @returns whether the browser took it */
export function keep(text: string): boolean {
  try {
    localStorage.setItem(key, text);
    return true;
  } catch {
    return false;
  }
}

export function clearKept(): void {
  try {
    localStorage.removeItem(key);
  } catch {
    // a browser that refuses its storage kept nothing
  }
}
