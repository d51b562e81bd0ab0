import { z } from '@hono/zod-openapi';

export const pointer = (name: string): string => `#/components/schemas/${name}`;

/**
 * The same schema, told by name in the API's description (`description.ts` says which names there
 * are): notes hold notes, and the generator behind the routes would not come back from that. Wrapped,
 * since only schemas made after the generator was loaded can be told things about.
 */
export const named = <Schema extends z.ZodType>(
  schema: Schema,
  name: 'BoardPlay' | 'StaffArchive',
) => z.lazy(() => schema).openapi({ type: 'object', allOf: [{ $ref: pointer(name) }] });
