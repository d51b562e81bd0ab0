import { z } from 'zod';

/** A path within this site. Refuses other sites, however they are written (`//host`, `/\host`, `https:`). */
export const localPath = z
  .string()
  .max(500)
  .refine((path) => /^\/(?![/\\])/.test(path) && !/[\\\s]/.test(path), 'not a path of this site');
