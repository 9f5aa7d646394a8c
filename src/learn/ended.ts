/** An answer to choose has no full stop; before its reason it is a sentence, and needs one. */
export const ended = (text: string): string => (/[.!?]["']?$/.test(text) ? text : `${text}.`);
