import { createRoute, z } from '@hono/zod-openapi';
import { json, notReady } from '../responses.ts';

const fine = z.object({ status: z.literal('ok') });

/** What a server says beside that it can serve; without the last it is the only one. */
const readyNow = fine.extend({
  servers: z
    .object({
      redis: z.enum(['connected', 'away']).openapi({
        description:
          'away: edits, sign-offs and rights still cross between servers, by the database; presence does not.',
      }),
      since: z.iso.datetime(),
      lagMs: z.number().nullable(),
      others: z.number().int(),
    })
    .optional(),
});

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
  responses: { 200: json(readyNow, 'It can serve.'), ...notReady },
});
