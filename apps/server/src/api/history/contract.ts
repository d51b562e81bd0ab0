import { createRoute } from '@hono/zod-openapi';
import {
  historySchema,
  pastBoardSchema,
  pastQuerySchema,
  restoreSchema,
} from '@stemline/protocol/api/history';
import { named } from '../named.ts';
import { needs } from '../needs.ts';
import { boardParam } from '../params.ts';
import { body, conflict, invalid, json, refusals } from '../responses.ts';

export const list = createRoute({
  method: 'get',
  path: '/api/boards/{board}/history',
  tags: ['boards'],
  ...needs.board('board.open'),
  request: { params: boardParam },
  responses: { 200: json(historySchema, 'Newest first.'), ...refusals },
});

export const past = createRoute({
  method: 'get',
  path: '/api/boards/{board}/at',
  tags: ['boards'],
  ...needs.board('board.open'),
  request: { params: boardParam, query: pastQuerySchema },
  responses: {
    200: json(
      pastBoardSchema.extend({ content: named(pastBoardSchema.shape.content, 'BoardPlay') }),
      'The board with every edit made by that time.',
    ),
    ...refusals,
    ...invalid,
  },
});

/** A new edit of whoever restores; nothing is taken out of the history. */
export const restore = createRoute({
  method: 'post',
  path: '/api/boards/{board}/restore',
  tags: ['boards'],
  ...needs.board('board.editAll'),
  request: { params: boardParam, body: body(restoreSchema) },
  responses: {
    200: json(
      pastBoardSchema.pick({ time: true }),
      'When the last edit that is in it had been made.',
    ),
    ...refusals,
    ...invalid,
    ...conflict('nothingChanged', 'archived', 'conflict'),
  },
});
