/** Where the site is served from, with a slash at its end: '/' or '/folder/'. Every page carries it on its body. */
export const base = document.body.dataset.base ?? '/';
