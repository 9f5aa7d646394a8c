import { createHash } from 'node:crypto';
import { satteri } from '@astrojs/markdown-satteri';
import mdx from '@astrojs/mdx';
import preact from '@astrojs/preact';
import { defineConfig } from 'astro/config';
import { siteArchive } from './src/build/archive.ts';
import { materials } from './src/build/bill-of-materials.ts';
import { headers } from './src/build/headers.ts';
import { offline } from './src/build/offline.ts';
import { ownPolicy } from './src/build/own-policy.ts';
import { ownStyles } from './src/build/own-styles.ts';
import { plainImports } from './src/build/plain-imports.ts';
import { printedOnly } from './src/build/printed-only.ts';
import { readAhead } from './src/build/read-ahead.ts';
import { sameAnywhere } from './src/build/same-anywhere.ts';
import { searchIndex } from './src/build/search-index.ts';
import { drawingStyle } from './src/components/drawing-style.ts';
import { themeFirst } from './src/theme/theme.ts';

export default defineConfig({
  site: process.env.TIDEMARK_SITE ?? 'https://tidemark.example',
  base: process.env.TIDEMARK_BASE ?? '/',
  outDir: process.env.TIDEMARK_OUT ?? './dist',
  publicDir: './src/static',
  trailingSlash: 'always',
  compressHTML: true,
  build: { inlineStylesheets: 'always' },
  devToolbar: { enabled: false },
  // Straight quotes and dashes stay as typed: '5--10' must not become a range by itself.
  markdown: { syntaxHighlight: false, processor: satteri({ features: { smartPunctuation: false } }) },
  security: {
    csp: {
      algorithm: 'SHA-256',
      directives: [
        "default-src 'self'",
        "img-src 'self' data:",
        "object-src 'none'",
        "base-uri 'self'",
        "form-action 'self'",
        "worker-src 'self'",
        "connect-src 'self'",
        "manifest-src 'self'",
        "font-src 'self'",
      ],
      // Inline scripts written as they are get no hash by themselves.
      scriptDirective: {
        resources: ["'self'", "'wasm-unsafe-eval'"],
        hashes: [`sha256-${createHash('sha256').update(themeFirst).digest('base64')}`],
      },
      // The drawings' styles are printed as they are, only where there is one.
      styleDirective: {
        resources: ["'self'"],
        hashes: [`sha256-${createHash('sha256').update(drawingStyle).digest('base64')}`],
      },
    },
  },
  // Order matters: the search index is part of what the offline list counts, and the archive holds both.
  integrations: [
    mdx(),
    preact(),
    plainImports(),
    printedOnly(),
    sameAnywhere(),
    ownStyles(),
    ownPolicy(),
    readAhead(),
    headers(),
    materials(),
    searchIndex(),
    offline(),
    siteArchive(),
  ],
  vite: {
    build: {
      rolldownOptions: {
        output: {
          codeSplitting: {
            groups: [
              // What every page carries, in one file: it must not pull in the view library.
              {
                name: 'page',
                test: /preload-helper|src\/(person\/(store|strip|tabs)|agreement\/(store|line)|offline\/(register|age)|theme-tap|today|base)\b|domain\/(disease-short|age-and-sex)/,
              },
              { name: 'preact', test: /node_modules\/(preact|@astrojs\/preact)/ },
              // Small parts that go together travel better together: what every sum computes with, and what every form draws.
              {
                name: 'figures',
                test: /calculators\/(calculator|quantity|outcome|out-of-range|wrong-units|read-number|standing|body-size\/shared-fields)\.ts/,
              },
              {
                name: 'form',
                test: /islands\/(QuantityInput|ChoiceInput|ResultTable|use-ready|typed-rows)/,
              },
            ],
          },
        },
      },
    },
  },
});
