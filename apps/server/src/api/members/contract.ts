import { createRoute, z } from '@hono/zod-openapi';
import { memberChangeSchema, memberSchema } from '@stemline/protocol/api/staffs';
import { needs } from '../needs.ts';
import { memberParam, staffParam } from '../params.ts';
import { body, conflict, invalid, json, nothing, refusals } from '../responses.ts';

export const list = createRoute({
  method: 'get',
  path: '/api/staffs/{staff}/members',
  tags: ['staffs'],
  ...needs.staff('member.read'),
  request: { params: staffParam },
  responses: { 200: json(z.array(memberSchema), 'Everybody on the staff.'), ...refusals },
});

export const change = createRoute({
  method: 'patch',
  path: '/api/staffs/{staff}/members/{member}',
  tags: ['staffs'],
  ...needs.staff('member.change'),
  request: { params: memberParam, body: body(memberChangeSchema) },
  responses: { 204: nothing, ...refusals, ...invalid, ...conflict('lastHeadCoach') },
});

/** What he did keeps his name; his open rooms are closed at once. */
export const remove = createRoute({
  method: 'delete',
  path: '/api/staffs/{staff}/members/{member}',
  tags: ['staffs'],
  ...needs.staff('member.change'),
  request: { params: memberParam },
  responses: { 204: nothing, ...refusals, ...conflict('lastHeadCoach') },
});
