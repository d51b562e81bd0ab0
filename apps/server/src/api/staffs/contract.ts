import { createRoute } from '@hono/zod-openapi';
import { membershipSchema, newStaffSchema } from '@stemline/protocol/api/staffs';
import { needs } from '../needs.ts';
import { body, conflict, invalid, json, refusals } from '../responses.ts';

/** Whoever founds a staff is its head coach, and finds the look shelf filled. */
export const found = createRoute({
  method: 'post',
  path: '/api/staffs',
  tags: ['staffs'],
  ...needs.signedIn(),
  request: { body: body(newStaffSchema) },
  responses: {
    201: json(membershipSchema, 'The founder’s membership.'),
    401: refusals[401],
    ...invalid,
    ...conflict('full'),
  },
});
