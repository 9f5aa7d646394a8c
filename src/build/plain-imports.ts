/**
 * Parts that are fetched when they are needed are fetched plainly. The bundler's helper for it reads ahead what the part
 * itself needs, which saves a round trip now and then and costs every text page more script than all of its own; from the
 * saved copy there is no round trip to save. Styles are in the pages, so that nothing else hangs on it.
 */
import type { AstroIntegration } from 'astro';

const helper = 'export const __vitePreload = (load) => load();';

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
                // Where the marker is gone, no list of what to read ahead is written.
                for (const file of Object.values(bundle))
                  if (file.type === 'chunk') file.code = file.code.replace(/,\s*__VITE_PRELOAD__/g, '');
              },
            },
          ],
        },
      });
    },
  },
});
