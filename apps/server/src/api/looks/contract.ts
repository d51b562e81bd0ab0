import { createRoute, z } from '@hono/zod-openapi';
import { lookPlaceSchema, newLookSchema, staffLookSchema } from '@stemline/protocol/api/looks';
import { needs } from '../needs.ts';
import { lookParam, staffParam } from '../params.ts';
import { body, conflict, invalid, json, nothing, refusals } from '../responses.ts';

export const list = createRoute({
  method: 'get',
  path: '/api/staffs/{staff}/looks',
  tags: ['looks'],
  ...needs.staff('look.read'),
  request: { params: staffParam },
  responses: { 200: json(z.array(staffLookSchema), 'In the order of the shelf.'), ...refusals },
});

export const add = createRoute({
  method: 'post',
  path: '/api/staffs/{staff}/looks',
  tags: ['looks'],
  ...needs.staff('look.edit'),
  request: { params: staffParam, body: body(newLookSchema) },
  responses: {
    201: json(staffLookSchema, 'The new look.'),
    ...refusals,
    ...invalid,
    ...conflict('nameTaken', 'full'),
  },
});

export const change = createRoute({
  method: 'put',
  path: '/api/staffs/{staff}/looks/{look}',
  tags: ['looks'],
  ...needs.staff('look.edit'),
  request: { params: lookParam, body: body(newLookSchema) },
  responses: {
    200: json(staffLookSchema, 'The look as changed.'),
    ...refusals,
    ...invalid,
    ...conflict('nameTaken'),
  },
});

export const move = createRoute({
  method: 'post',
  path: '/api/staffs/{staff}/looks/{look}/move',
  tags: ['looks'],
  ...needs.staff('look.edit'),
  request: { params: lookParam, body: body(lookPlaceSchema) },
  responses: {
    200: json(z.array(staffLookSchema), 'The shelf in its new order.'),
    ...refusals,
    ...invalid,
  },
});

export const remove = createRoute({
  method: 'delete',
  path: '/api/staffs/{staff}/looks/{look}',
  tags: ['looks'],
  ...needs.staff('look.edit'),
  request: { params: lookParam },
  responses: { 204: nothing, ...refusals },
});
