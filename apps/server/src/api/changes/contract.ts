import { createRoute, z } from '@hono/zod-openapi';
import {
  changeSchema,
  changesQuerySchema,
  decisionSchema,
  sendUpSchema,
  sentPlaySchema,
  waivedFindingSchema,
  waiverSchema,
} from '@stemline/protocol/api/signoff';
import { named } from '../named.ts';
import { needs } from '../needs.ts';
import { boardParam, changeParam, staffParam } from '../params.ts';
import { body, conflict, invalid, json, nothing, refusals } from '../responses.ts';

export const listOfBoard = createRoute({
  method: 'get',
  path: '/api/boards/{board}/changes',
  tags: ['sign-off'],
  ...needs.board('change.read'),
  request: { params: boardParam },
  responses: { 200: json(z.array(changeSchema), 'Newest first.'), ...refusals },
});

export const listOfStaff = createRoute({
  method: 'get',
  path: '/api/staffs/{staff}/changes',
  tags: ['sign-off'],
  ...needs.staff('change.read'),
  request: { params: staffParam, query: changesQuerySchema },
  responses: { 200: json(z.array(changeSchema), 'Newest first.'), ...refusals, ...invalid },
});

/** What is decided on, which the board may say no longer. */
export const sentPlay = createRoute({
  method: 'get',
  path: '/api/changes/{change}/play',
  tags: ['sign-off'],
  ...needs.change('change.read'),
  request: { params: changeParam },
  responses: {
    200: json(
      sentPlaySchema.extend({ content: named(sentPlaySchema.shape.content, 'BoardPlay') }),
      'It never changes.',
    ),
    ...refusals,
  },
});

/** Puts the board up for sign-off exactly as it stands. */
export const sendUp = createRoute({
  method: 'post',
  path: '/api/boards/{board}/changes',
  tags: ['sign-off'],
  ...needs.board('change.sendUp'),
  request: { params: boardParam, body: body(sendUpSchema) },
  responses: {
    201: json(changeSchema, 'What was sent up.'),
    ...refusals,
    ...invalid,
    ...conflict('alreadySentUp', 'nothingChanged', 'archived'),
  },
});

export const decide = createRoute({
  method: 'post',
  path: '/api/changes/{change}/decision',
  tags: ['sign-off'],
  ...needs.change('change.decide'),
  request: { params: changeParam, body: body(decisionSchema) },
  responses: {
    200: json(changeSchema, 'The change as decided.'),
    ...refusals,
    ...invalid,
    ...conflict('alreadyDecided', 'blocked'),
  },
});

/** For whoever sent it. */
export const withdraw = createRoute({
  method: 'post',
  path: '/api/changes/{change}/withdraw',
  tags: ['sign-off'],
  ...needs.change('change.sendUp'),
  request: { params: changeParam },
  responses: {
    200: json(changeSchema, 'The change as withdrawn.'),
    ...refusals,
    ...conflict('alreadyDecided'),
  },
});

export const waive = createRoute({
  method: 'post',
  path: '/api/boards/{board}/waivers',
  tags: ['sign-off'],
  ...needs.board('finding.waive'),
  request: { params: boardParam, body: body(waiverSchema) },
  responses: { 204: nothing, ...refusals, ...invalid },
});

export const unwaive = createRoute({
  method: 'delete',
  path: '/api/boards/{board}/waivers',
  tags: ['sign-off'],
  ...needs.board('finding.waive'),
  request: { params: boardParam, query: waivedFindingSchema },
  responses: { 204: nothing, ...refusals, ...invalid },
});
