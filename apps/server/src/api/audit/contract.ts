import { createRoute, z } from '@hono/zod-openapi';
import { auditEventSchema } from '@stemline/protocol/api/staffs';
import { needs } from '../needs.ts';
import { staffParam } from '../params.ts';
import { json, refusals } from '../responses.ts';

export const list = createRoute({
  method: 'get',
  path: '/api/staffs/{staff}/audit',
  tags: ['staffs'],
  ...needs.staff('audit.read'),
  request: { params: staffParam },
  responses: { 200: json(z.array(auditEventSchema), 'The latest 200, newest first.'), ...refusals },
});
