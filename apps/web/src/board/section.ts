import { z } from 'zod';

/** What stands beside the board; an address may name one to open it with. */
export const sectionSchema = z.enum([
  'player',
  'card',
  'looks',
  'protection',
  'samePage',
  'findings',
  'notes',
  'comments',
  'signoff',
]);
export type SectionId = z.infer<typeof sectionSchema>;
