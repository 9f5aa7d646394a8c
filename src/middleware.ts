/** The last step of every page, before the steps of the build. */
import { defineMiddleware } from 'astro:middleware';
import { typeset } from './theme/typeset.ts';

export const onRequest = defineMiddleware(async (_context, next) => {
  const response = await next();
  if (!response.headers.get('content-type')?.includes('text/html')) return response;
  return new Response(typeset(await response.text()), response);
});
