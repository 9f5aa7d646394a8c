/** Colours by the system's setting or by a tap: night, day, and the strong contrast that sun on a screen asks for. */

export const themeKey = 'tidemark:colours';

/** The first is the system's own choice; the rest are values of `data-theme`, as src/styles/site.css knows them. */
export const themes = ['auto', 'light', 'dark', 'outdoor'] as const;
export type Theme = (typeof themes)[number];
export const themeWords: Record<Theme, string> = { auto: 'auto', light: 'light', dark: 'dark', outdoor: 'sun' };

/**
 * Runs in the head, before anything is drawn, so that no page flashes in the wrong colours. Its hash is in the content
 * policy (astro.config.mjs), which therefore lets exactly this text run and nothing else.
 */
export const themeFirst = `try{const t=localStorage.getItem('${themeKey}');if(t)document.documentElement.dataset.theme=t}catch{}`;
