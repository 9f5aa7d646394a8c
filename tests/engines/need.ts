/** The engines beside Chromium's: installed where that can be done without asking anybody, and named where they are missing. */
import { install } from '../site/chromium.ts';
import type { Engine } from './engine.ts';
import { firefox } from './firefox.ts';
import { webkit } from './webkit.ts';

/** @returns one line for each engine whose journeys will be skipped, with the reason */
export const missingEngines = (): string[] =>
  [firefox, webkit].flatMap((engine: Engine) => {
    if (engine.found() || (install(engine.packages) && engine.found())) return [];
    const packages = engine.packages.join(' ');
    return [
      `${engine.name} is not on this machine, so its journeys are skipped. On Debian, as root: apt-get install ${packages}`,
    ];
  });
