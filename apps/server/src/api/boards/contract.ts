import { createRoute, z } from '@hono/zod-openapi';
import {
  boardLineSchema,
  boardPatchSchema,
  boardSchema,
  bookQuerySchema,
  duplicateBoardSchema,
  findingHistorySchema,
  letInMemberSchema,
  letInSchema,
  madeBoardSchema,
  newBoardSchema,
} from '@stemline/protocol/api/boards';
import { needs } from '../needs.ts';
import { boardParam, staffParam } from '../params.ts';
import { body, conflict, invalid, json, nothing, refusals } from '../responses.ts';

/** A player's book holds what is signed off, as it was signed off. */
export const list = createRoute({
  method: 'get',
  path: '/api/staffs/{staff}/boards',
  tags: ['boards'],
  ...needs.staff('book.read'),
  request: { params: staffParam, query: bookQuerySchema },
  responses: { 200: json(z.array(boardLineSchema), 'By name.'), ...refusals, ...invalid },
});

export const create = createRoute({
  method: 'post',
  path: '/api/staffs/{staff}/boards',
  tags: ['boards'],
  ...needs.staff('board.create'),
  request: { params: staffParam, body: body(newBoardSchema) },
  responses: {
    201: json(madeBoardSchema, 'The new board.'),
    ...refusals,
    ...invalid,
    ...conflict('full'),
  },
});

export const read = createRoute({
  method: 'get',
  path: '/api/boards/{board}',
  tags: ['boards'],
  ...needs.board('book.read'),
  request: { params: boardParam },
  responses: { 200: json(boardSchema, 'With what the reader may do there.'), ...refusals },
});

export const archive = createRoute({
  method: 'patch',
  path: '/api/boards/{board}',
  tags: ['boards'],
  ...needs.board('board.archive'),
  request: { params: boardParam, body: body(boardPatchSchema) },
  responses: { 204: nothing, ...refusals, ...invalid },
});

/** A board of its own that says what this one says now. */
export const duplicate = createRoute({
  method: 'post',
  path: '/api/boards/{board}/duplicate',
  tags: ['boards'],
  ...needs.board('board.create'),
  request: { params: boardParam, body: body(duplicateBoardSchema) },
  responses: {
    201: json(madeBoardSchema, 'The new board.'),
    ...refusals,
    ...invalid,
    ...conflict('full'),
  },
});

export const letInList = createRoute({
  method: 'get',
  path: '/api/boards/{board}/let-in',
  tags: ['boards'],
  ...needs.board('board.letIn'),
  request: { params: boardParam },
  responses: {
    200: json(z.array(letInMemberSchema), 'Whom it would give something.'),
    ...refusals,
  },
});

export const letIn = createRoute({
  method: 'put',
  path: '/api/boards/{board}/let-in',
  tags: ['boards'],
  ...needs.board('board.letIn'),
  request: { params: boardParam, body: body(letInSchema) },
  responses: { 204: nothing, ...refusals, ...invalid },
});

export const findingHistory = createRoute({
  method: 'get',
  path: '/api/boards/{board}/findings/history',
  tags: ['boards'],
  ...needs.board('finding.read'),
  request: { params: boardParam },
  responses: { 200: json(z.array(findingHistorySchema), 'Newest first.'), ...refusals },
});
