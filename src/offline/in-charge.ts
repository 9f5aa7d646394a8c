/**
 * Once a worker answers for pages. It has every file some moments before that, and a page opened in those moments without
 * a signal would still be asked of the host: "saved" is said only after them.
 */
export async function inCharge(workers: ServiceWorkerContainer): Promise<void> {
  const { active } = await workers.ready;
  while (active?.state === 'activating')
    await new Promise((done) => active.addEventListener('statechange', done, { once: true }));
}
