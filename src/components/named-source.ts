/**
 * A sentence about a source, with the name of the source in it: a reader may meet it alone, and 'the source' or
 * 'this study' would then mean nothing. The data keeps the general words, because lists that put the name first use them.
 */
export function namingSource(words: string, short: string): string {
  const name = short.replace(' (old)', '');
  const study = / (?:study|trial|abstract)\b/.test(name) ? `the ${name}` : name;
  const withNoun = (the: string, noun: string): string => {
    if (name.split(' ').includes(noun)) return `${the} ${name}`;
    return name.endsWith(' abstract') ? `${the} ${noun} in the ${name}` : `${the} ${name} ${noun}`;
  };
  return words
    .replace(/\b([Tt]he) source's (\w+)/g, `$1 $2 in ${name}`)
    .replace(/\b[Tt]he source\b(?!')/g, name)
    .replace(/\bThis report\b/g, name)
    .replace(/\bIn this (?:study|cohort|series|trial),? /g, `In ${study}, `)
    .replace(/\bThe study's authors\b/g, `The authors of ${study}`)
    .replace(/\b([Tt]he) (policy|panel|trial|study|cohort|paper)\b(?!')/g, (_, the, noun) => withNoun(the, noun))
    .replace(/\b([Tt]he) figure\b(?! in| of)/g, `$1 figure in ${name}`);
}
