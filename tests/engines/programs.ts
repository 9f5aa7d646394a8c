/** Programs that the tests start: where they are, what they say, and how they end. */
import type { ChildProcess } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

export const onPath = (name: string): string | undefined =>
  (process.env.PATH ?? '')
    .split(delimiter)
    .map((folder) => join(folder, name))
    .find(runs);

function runs(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** Wait until a program has said this. */
export const told = (from: NodeJS.ReadableStream, words: RegExp, name: string): Promise<string> =>
  new Promise((done, failed) => {
    let said = '';
    const give = setTimeout(() => failed(new Error(`${name} did not start in 60 s: ${said}`)), 60_000);
    from.on('data', (part) => {
      said += part;
      const found = words.exec(said)?.[1];
      if (found === undefined) return;
      clearTimeout(give);
      done(found);
    });
    from.on('end', () => failed(new Error(`${name} ended: ${said}`)));
  });

/** End a program that was started `detached`, with everything that it has started in turn. */
export async function stopGroup(program: ChildProcess): Promise<void> {
  if (program.pid === undefined || program.exitCode !== null || program.signalCode !== null) return;
  const ended = new Promise((done) => program.once('exit', done));
  process.kill(-program.pid, 'SIGKILL');
  await ended;
}
