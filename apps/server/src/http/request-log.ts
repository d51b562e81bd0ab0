import { createMiddleware } from 'hono/factory';
import { routePath } from 'hono/route';
import type { AppEnv } from '../api/context.ts';

/** One line a request. The route's pattern stands for the path: an invitation's path is a secret. */
export const requestLog = createMiddleware<AppEnv>(async (c, next) => {
  const from = performance.now();
  await next();
  c.header('x-request-id', c.var.requestId);
  c.var.deps.log.info(
    {
      requestId: c.var.requestId,
      method: c.req.method,
      route: routePath(c, -1),
      status: c.res.status,
      ms: Math.round(performance.now() - from),
    },
    'request',
  );
});
