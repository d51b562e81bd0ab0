import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { serveStatic } from '@hono/node-server/serve-static';
import { compress } from 'hono/compress';
import { createMiddleware } from 'hono/factory';
import { api } from '../api/context.ts';
import { ApiProblem } from '../api/problem.ts';

const forever = 'public, max-age=31536000, immutable';
const askAgain = 'no-cache';

const keptFor = (cacheControl: string) =>
  createMiddleware(async (c, next) => {
    await next();
    if (c.res.ok) c.header('cache-control', cacheControl);
  });

/**
 * The built web app. Files below assets/ carry their content's hash in their name and are kept for
 * good; every other address that is not the API's is a screen's, and gets the one page.
 */
export function webApp(folder: string | null) {
  const app = api();
  app.all('/api/*', (c) => {
    throw new ApiProblem('notFound', `The API has no ${c.req.method} ${c.req.path}.`, {
      mend: 'See /openapi.json for what there is.',
    });
  });
  if (folder && existsSync(join(folder, 'index.html'))) {
    const files = serveStatic({ root: folder });
    app.use(compress());
    app.get('/assets/*', keptFor(forever), files, (c) => {
      throw new ApiProblem('notFound', `There is no file ${c.req.path}.`);
    });
    app.get('*', keptFor(askAgain), files, serveStatic({ root: folder, path: 'index.html' }));
  }
  app.all('*', (c) => {
    throw new ApiProblem('notFound', `There is nothing at ${c.req.method} ${c.req.path}.`);
  });
  return app;
}
