import { createRoute, z } from '@hono/zod-openapi';
import {
  commentSchema,
  newCommentSchema,
  newThreadSchema,
  threadPatchSchema,
  threadSchema,
} from '@stemline/protocol/api/comments';
import { needs } from '../needs.ts';
import { boardParam, commentParam, threadParam } from '../params.ts';
import { body, conflict, invalid, json, nothing, refusals } from '../responses.ts';

export const list = createRoute({
  method: 'get',
  path: '/api/boards/{board}/threads',
  tags: ['comments'],
  ...needs.board('comment.read'),
  request: { params: boardParam },
  responses: { 200: json(z.array(threadSchema), 'Oldest first.'), ...refusals },
});

export const start = createRoute({
  method: 'post',
  path: '/api/boards/{board}/threads',
  tags: ['comments'],
  ...needs.board('comment.write'),
  request: { params: boardParam, body: body(newThreadSchema) },
  responses: {
    201: json(threadSchema, 'The new thread.'),
    ...refusals,
    ...invalid,
    ...conflict('full'),
  },
});

export const reply = createRoute({
  method: 'post',
  path: '/api/threads/{thread}/comments',
  tags: ['comments'],
  ...needs.thread('comment.write'),
  request: { params: threadParam, body: body(newCommentSchema) },
  responses: {
    201: json(commentSchema, 'The new comment.'),
    ...refusals,
    ...invalid,
    ...conflict('full'),
  },
});

export const reword = createRoute({
  method: 'patch',
  path: '/api/comments/{comment}',
  tags: ['comments'],
  summary: 'Only who wrote it may; the trail keeps the words as they were.',
  ...needs.comment('comment.write'),
  request: { params: commentParam, body: body(newCommentSchema) },
  responses: { 200: json(commentSchema, 'The comment as it reads now.'), ...refusals, ...invalid },
});

export const remove = createRoute({
  method: 'delete',
  path: '/api/comments/{comment}',
  tags: ['comments'],
  summary:
    'Only who wrote it may; that there was one stays, and the trail keeps its words. With its last comment a thread is resolved.',
  ...needs.comment('comment.write'),
  request: { params: commentParam },
  responses: { 204: nothing, ...refusals },
});

export const resolve = createRoute({
  method: 'patch',
  path: '/api/threads/{thread}',
  tags: ['comments'],
  ...needs.thread('comment.resolve'),
  request: { params: threadParam, body: body(threadPatchSchema) },
  responses: { 204: nothing, ...refusals, ...invalid },
});
