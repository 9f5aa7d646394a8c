/** The QR code of a link. Fetched when one is asked for. */
import { correction, generate } from 'lean-qr';
import { toSvgPath } from 'lean-qr/extras/svg';

export interface Code {
  /** squares across */
  size: number;
  /** its dark squares as one path */
  path: string;
}

/** At least the lowest correction, and more of it where that costs no larger code. */
export function codeOf(address: string): Code {
  const code = generate(address, { minCorrectionLevel: correction.L });
  return { size: code.size, path: toSvgPath(code) };
}
