import { createRoute, z } from '@hono/zod-openapi';
import { versionLineSchema, versionSchema } from '@stemline/protocol/api/signoff';
import { named } from '../named.ts';
import { needs } from '../needs.ts';
import { boardParam, versionParam } from '../params.ts';
import { json, refusals } from '../responses.ts';

const described = versionSchema.extend({
  content: named(versionSchema.shape.content, 'BoardPlay'),
});

export const list = createRoute({
  method: 'get',
  path: '/api/boards/{board}/versions',
  tags: ['sign-off'],
  ...needs.board('version.read'),
  request: { params: boardParam },
  responses: { 200: json(z.array(versionLineSchema), 'Newest first.'), ...refusals },
});

export const read = createRoute({
  method: 'get',
  path: '/api/versions/{version}',
  tags: ['sign-off'],
  ...needs.version('version.read'),
  request: { params: versionParam },
  responses: { 200: json(described, 'It never changes.'), ...refusals },
});

/** What players learn from. */
export const signed = createRoute({
  method: 'get',
  path: '/api/boards/{board}/signed',
  tags: ['sign-off'],
  ...needs.board('version.read'),
  request: { params: boardParam },
  responses: { 200: json(described, 'The newest signed-off version.'), ...refusals },
});
