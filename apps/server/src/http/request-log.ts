import { createMiddleware } from 'hono/factory';
import { routePath } from 'hono/route';
import type { AppEnv } from '../api/context.ts';

/** One line a request. The route's pattern stands for the path: an invitation's path is a secret. */
export const requestLog = createMiddleware<AppEnv>(async (c, next) => {
  const from = performance.now();
  await next();
  const ms = performance.now() - from;
  // Of the handler that was reached last, which is the one that answered.
  const route = routePath(c);
  c.header('x-request-id', c.var.requestId);
  c.var.deps.metrics.answered(c.req.method, route, c.res.status, ms);
  c.var.deps.log.info(
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
