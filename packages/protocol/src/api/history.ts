import { boardPlaySchema } from '@stemline/board/board-play';
import { z } from 'zod';
import { momentSchema } from './moment.ts';

/** Edits with no long pause between them. */
export const sittingSchema = z.object({
  from: z.iso.datetime(),
  /** When the last edit of it was made: the time to ask for, to see how it ended. */
  to: z.iso.datetime(),
  /** Who edited; empty where only the server did. */
  names: z.array(z.string()),
});
export const historySchema = z.array(sittingSchema);
export type Sitting = z.infer<typeof sittingSchema>;

export const pastQuerySchema = z.object({ time: momentSchema({ offset: true }) });
export const restoreSchema = z.strictObject({ time: momentSchema({ offset: true }) });

export const pastBoardSchema = z.object({
  /** When the last edit that is in it was made. */
  time: z.iso.datetime(),
  content: boardPlaySchema,
  /** What the board would change if it were restored to this, in words; empty: nothing. */
  changes: z.array(z.string()),
  /** The sitting that it stands in: who edited in it, and in words what came of that by this time. */
  sitting: z.object({ names: z.array(z.string()), did: z.array(z.string()) }).nullable(),
});
export type PastBoard = z.infer<typeof pastBoardSchema>;
