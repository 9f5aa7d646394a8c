/**
 * Parts that are fetched when they are needed are fetched plainly. The bundler's helper for it reads ahead what the part
 * itself needs, which saves a round trip now and then and costs every text page more script than all of its own; from the
 * saved copy there is no round trip to save. Styles are in the pages, so that nothing else hangs on it.
 */
import type { AstroIntegration } from 'astro';

const helper = 'export const __vitePreload = (load) => load();';

/** @returns the script without the bundler's place for a list of what to read ahead */
export const withoutPreloadMarker = (code: string): string => code.replace(/,\s*__VITE_PRELOAD__/g, '');

/**
 * @returns the scripts rewritten, by file
 * @throws where scripts fetch others and none has the bundler's marker: its format has changed, and the lists are back
 */
export function plainScripts(scripts: Record<string, { code: string; fetches: boolean }>): Record<string, string> {
  const rewritten = Object.entries(scripts).map(([file, { code }]) => [file, withoutPreloadMarker(code)] as const);
  const fetching = Object.values(scripts).some(({ fetches }) => fetches);
  if (fetching && rewritten.every(([file, code]) => code === scripts[file]?.code))
    throw new Error(
      'plain-imports: no script has the marker __VITE_PRELOAD__; look at how this Vite marks its imports',
    );
  const left = rewritten.find(([, code]) => code.includes('__VITE_PRELOAD__'));
  if (left) throw new Error(`plain-imports: ${left[0]} still has the marker __VITE_PRELOAD__ after rewriting`);
  return Object.fromEntries(rewritten);
}

export const plainImports = (): AstroIntegration => ({
  name: 'plain-imports',
  hooks: {
    'astro:config:setup': ({ updateConfig }) => {
      updateConfig({
        vite: {
          plugins: [
            {
              name: 'plain-imports',
              enforce: 'pre',
              load: (id: string) => (id.includes('vite/preload-helper') ? helper : undefined),
              generateBundle(_options, bundle) {
                // Only scripts for the browser have the marker. Where it is gone, Vite writes no list of what to read ahead.
                if (this.environment.name !== 'client') return;
                const chunks = Object.values(bundle).filter((file) => file.type === 'chunk');
                const plain = plainScripts(
                  Object.fromEntries(
                    chunks.map(({ fileName, code, dynamicImports }) => [
                      fileName,
                      { code, fetches: dynamicImports.length > 0 },
                    ]),
                  ),
                );
                for (const chunk of chunks) chunk.code = plain[chunk.fileName] ?? chunk.code;
              },
            },
          ],
        },
      });
    },
  },
});
