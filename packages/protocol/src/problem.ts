import { z } from 'zod';

/** RFC 9457 problem details, with `mend`: what the reader can do about it. */
export const problemSchema = z.object({
  type: z.string(),
  title: z.string(),
  status: z.number().int(),
  detail: z.string(),
  mend: z.string(),
  /** The right that the asker lacks, by its name in permissions.ts. */
  right: z.string().optional(),
  /** Where in the request it went wrong, as a path. */
  where: z.array(z.object({ path: z.string(), message: z.string() })).optional(),
});
export type Problem = z.infer<typeof problemSchema>;
