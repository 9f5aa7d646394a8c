/** A private window of Firefox: the same work, and nothing of it on the disk. Chromium's tests all run in windows that keep nothing. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import { dist } from '../site/built.ts';
import { type Server, serve } from '../site/server.ts';
import { type Screen, screenOf } from './client.ts';
import type { Engine } from './engine.ts';
import { firefox, privateFirefox } from './firefox.ts';
import { agreementLink, enterVisit } from './journeys.ts';

const ends: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

async function open(engine: Engine): Promise<{ reader: Screen; server: Server }> {
  const server = await serve(dist);
  ends.push(() => server.stop());
  const running = await engine.start();
  ends.push(running.stop);
  const reader = screenOf(await running.open());
  ends.push(reader.close);
  return { reader, server };
}

async function putInForce(reader: Screen, server: Server): Promise<void> {
  await reader.go(server.at(`/agree/open/${agreementLink}`));
  await reader.click('button.main', 'Yes, put it in force on this device');
  await reader.sees('In force on this device: Tern Valley Neuromuscular Clinic', '[role=status]');
}

/** Files of the browser's own folder that name one of our stores. */
function kept(reader: Screen): string[] {
  const profile = join(dirname(reader.downloads), 'profile');
  return readdirSync(profile, { recursive: true, encoding: 'utf8' }).filter((name) => {
    const path = join(profile, name);
    return statSync(path, { throwIfNoEntry: false })?.isFile() && readFileSync(path, 'latin1').includes('tidemark:');
  });
}

describe.skipIf(!privateFirefox.found())(privateFirefox.name, () => {
  test('a visit and an agreement work, also without a signal, and leave nothing on the disk', async () => {
    const { reader, server } = await open(privateFirefox);
    await putInForce(reader, server);
    await reader.go(server.at('/visit/'));
    await enterVisit(reader);
    await reader.sees('Saved on this device for use offline.', '[data-offline]');
    await server.stop();
    await reader.go(server.at('/measuring/sniff-pressure/'));
    await reader.sees('Tern Valley Neuromuscular Clinic', '[data-agreement-line]');
    expect(kept(reader)).toEqual([]);
  });

  test('in an ordinary window, the same look at the disk finds the agreement', async () => {
    const { reader, server } = await open(firefox);
    await putInForce(reader, server);
    await expect.poll(() => kept(reader), { timeout: 30_000 }).not.toEqual([]);
  });
});
