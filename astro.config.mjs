import { satteri } from '@astrojs/markdown-satteri';
import mdx from '@astrojs/mdx';
import preact from '@astrojs/preact';
import { defineConfig } from 'astro/config';
import { offline } from './src/build/offline.ts';
import { searchIndex } from './src/build/search-index.ts';

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
      scriptDirective: { resources: ["'self'", "'wasm-unsafe-eval'"] },
      styleDirective: { resources: ["'self'"] },
    },
  },
  // Order matters: the search index is part of what the offline list counts.
  integrations: [mdx(), preact(), searchIndex(), offline()],
  vite: {
    build: {
      rolldownOptions: {
        output: {
          codeSplitting: {
            groups: [{ name: 'preact', test: /node_modules\/(preact|@astrojs\/preact)|preload-helper/ }],
          },
        },
      },
    },
  },
});
