import { createMiddleware } from 'hono/factory';
import { routePath } from 'hono/route';
import type { AppEnv } from '../api/context.ts';

const probes = new Set(['/healthz', '/readyz', '/metrics']);

/** One line a request. The route's pattern stands for the path: an invitation's path is a secret. */
export const requestLog = createMiddleware<AppEnv>(async (c, next) => {
  const from = performance.now();
  await next();
  const ms = performance.now() - from;
  // Of the handler that was reached last, which is the one that answered.
  const route = routePath(c);
  c.header('x-request-id', c.var.requestId);
  c.var.deps.metrics.answered(c.req.method, route, c.res.status, ms);
  // Whoever watches a server asks for these every few seconds; what they say is of interest once it is not well.
  const isWatching = probes.has(route) && c.res.ok;
  c.var.deps.log[isWatching ? 'debug' : 'info'](
    {
      requestId: c.var.requestId,
      method: c.req.method,
      route,
      status: c.res.status,
      ms: Math.round(ms),
    },
    'request',
  );
});
