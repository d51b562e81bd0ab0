import { createRoute } from '@hono/zod-openapi';
import { staffArchiveSchema } from '@stemline/protocol/api/archive';
import { membershipSchema } from '@stemline/protocol/api/staffs';
import { named, pointer } from '../named.ts';
import { needs } from '../needs.ts';
import { staffParam } from '../params.ts';
import { conflict, invalid, json, refusals, tooMany } from '../responses.ts';

const archive = named(staffArchiveSchema, 'StaffArchive');

/** People are in it by name; no addresses, no accounts, no history of single edits. */
export const exported = createRoute({
  method: 'get',
  path: '/api/staffs/{staff}/export',
  tags: ['staffs'],
  ...needs.staff('staff.export'),
  request: { params: staffParam },
  responses: {
    200: json(archive, 'The whole staff as one document.'),
    ...refusals,
    ...tooMany,
  },
});

export const imported = createRoute({
  method: 'post',
  path: '/api/staffs/import',
  tags: ['staffs'],
  ...needs.signedIn(),
  // Told and not declared as a request's: that would be read here, before the handler has it read elsewhere.
  requestBody: {
    required: true,
    content: { 'application/json': { schema: { $ref: pointer('StaffArchive') } } },
  },
  responses: {
    201: json(membershipSchema, 'The membership of whoever imported it, as head coach.'),
    401: refusals[401],
    ...invalid,
    ...conflict('full'),
    ...tooMany,
  },
});
