import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { serveStatic } from '@hono/node-server/serve-static';
import { compress } from 'hono/compress';
import { api } from '../api/context.ts';
import { ApiProblem } from '../api/problem.ts';

const forever = 'public, max-age=31536000, immutable';
const askAgain = 'no-cache';

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
    app.use('*', compress());
    app.get(
      '/assets/*',
      serveStatic({ root: folder, onFound: (_, c) => c.header('cache-control', forever) }),
    );
    app.get('/assets/*', (c) => {
      throw new ApiProblem('notFound', `There is no file ${c.req.path}.`);
    });
    app.get(
      '*',
      serveStatic({ root: folder, onFound: (_, c) => c.header('cache-control', askAgain) }),
    );
    app.get(
      '*',
      serveStatic({
        root: folder,
        path: 'index.html',
        onFound: (_, c) => c.header('cache-control', askAgain),
      }),
    );
  }
  app.all('*', (c) => {
    throw new ApiProblem('notFound', `There is nothing at ${c.req.method} ${c.req.path}.`);
  });
  return app;
}
