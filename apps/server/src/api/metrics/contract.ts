import { createRoute, z } from '@hono/zod-openapi';
import { noToken } from '../responses.ts';

/** What this process has counted, for Prometheus to read. */
export const metrics = createRoute({
  method: 'get',
  path: '/metrics',
  tags: ['health'],
  description:
    'Counters, gauges and histograms of this process. Open to this machine, and to whoever sends METRICS_TOKEN as a bearer token.',
  responses: {
    200: {
      description: 'Prometheus text format 0.0.4.',
      content: { 'text/plain': { schema: z.string() } },
    },
    ...noToken,
  },
});
