/** The built site under test: where its files are, and which pages it has. Nothing here counts pages in advance. */
import { existsSync, globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const built = (folder: string): string => {
  if (!existsSync(join(folder, 'index.html')))
    throw new Error(`No built site in ${folder}. Build it first: npm run test:site`);
  return folder;
};

export const dist = built(process.env.TIDEMARK_DIST ?? '.cache/dist');
/** The same site, built to be served from a folder of a larger one. */
export const subDist = (): string => built(process.env.TIDEMARK_DIST_SUB ?? '.cache/dist-sub');

/** Every page by its address from the site's root. */
export const pages: string[] = globSync('**/*.html', { cwd: dist })
  .map((file) => `/${file.replace(/(^|\/)index\.html$/, '$1')}`)
  .sort();

/** Pages whose address matches, fewer than all of them where one of a kind is enough. */
export const some = (pattern: RegExp, most = Number.POSITIVE_INFINITY): string[] =>
  pages.filter((page) => pattern.test(page)).slice(0, most);

export const htmlOf = (page: string): string =>
  readFileSync(join(dist, page.endsWith('/') ? `${page}index.html` : page), 'utf8');
export const has = (page: string): boolean => pages.includes(page);
