/**
 * Where the site is served from, with a slash at its end: '/' or '/folder/'. Every page carries it on its body. While the
 * site is built there is no page: modules that only pass it on are loaded then too.
 */
export const base = globalThis.document?.body.dataset.base ?? '/';
