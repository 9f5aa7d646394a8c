const base = import.meta.env.BASE_URL.endsWith('/') ? import.meta.env.BASE_URL : `${import.meta.env.BASE_URL}/`;

/** An address on this site from its root, under whatever folder the site is served from: `href('/visit/')`. */
export const href = (path: string): string => base + path.replace(/^\//, '');
