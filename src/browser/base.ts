/**
 * Where the site is served from, with a slash at its end: '/' or '/folder/'. Every page has it as `data-base` on its
 * body. While the site is built there is no page, and modules that import this one are loaded then too: it is '/'
 * there.
 */
export const base = globalThis.document?.body.dataset.base ?? '/';
