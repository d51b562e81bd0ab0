import { createRoute } from '@hono/zod-openapi';
import { staffArchiveSchema } from '@stemline/protocol/api/archive';
import { membershipSchema } from '@stemline/protocol/api/staffs';
import { named } from '../named.ts';
import { needs } from '../needs.ts';
import { staffParam } from '../params.ts';
import { body, invalid, json, refusals, tooMany } from '../responses.ts';

const archive = named(staffArchiveSchema, 'StaffArchive');

/** People are in it by name; no addresses, no accounts, no history of single edits. */
export const exported = createRoute({
  method: 'get',
  path: '/api/staffs/{staff}/export',
  tags: ['staffs'],
  ...needs.staff('staff.export'),
  request: { params: staffParam },
  responses: { 200: json(archive, 'The whole staff as one document.'), ...refusals },
});

export const imported = createRoute({
  method: 'post',
  path: '/api/staffs/import',
  tags: ['staffs'],
  ...needs.signedIn(),
  request: { body: body(archive) },
  responses: {
    201: json(membershipSchema, 'The membership of whoever imported it, as head coach.'),
    401: refusals[401],
    ...invalid,
    ...tooMany,
  },
});
