import { createRoute } from '@hono/zod-openapi';
import { meSchema } from '@stemline/protocol/api/staffs';
import { needs } from '../needs.ts';
import { json, refusals } from '../responses.ts';

export const me = createRoute({
  method: 'get',
  path: '/api/me',
  tags: ['accounts'],
  ...needs.signedIn(),
  responses: {
    200: json(meSchema, 'Who is signed in, and on which staffs he serves.'),
    401: refusals[401],
  },
});
