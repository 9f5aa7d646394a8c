import { globSync } from 'node:fs';

/**
 * The files of content/ that match, in order. Never an empty list: without its criteria the site would build, and say
 * nothing where it should warn.
 *
 * @param root  as a path of the file system: in a file address, a space or an accent is written otherwise
 * @throws where there is none, with the pattern and the folder
 */
export function contentFiles(pattern: string, root: string): string[] {
  const names = globSync(pattern, { cwd: root }).sort();
  if (names.length === 0) throw new Error(`No file matches ${pattern} in ${root}: the site cannot be built without it`);
  return names;
}
