import { createRoute, z } from '@hono/zod-openapi';
import { json, notReady } from '../responses.ts';

const fine = z.object({ status: z.literal('ok') });

/** The process runs. */
export const alive = createRoute({
  method: 'get',
  path: '/healthz',
  tags: ['health'],
  responses: { 200: json(fine, 'It runs.') },
});

/** It can serve: the database answers and has every migration of this build. */
export const ready = createRoute({
  method: 'get',
  path: '/readyz',
  tags: ['health'],
  responses: { 200: json(fine, 'It can serve.'), ...notReady },
});
