import { z } from 'zod';
import { pointSchema } from './geometry.ts';
import { defenderIdSchema, lookIdSchema, reactionIdSchema } from './ids.ts';

/** Where a defender lives before the snap. A key selector names the levels it scans. */
export const levelSchema = z.enum(['line', 'second', 'corner', 'deep']);
export type Level = z.infer<typeof levelSchema>;

/** What a defender may do after the snap, as the player who reads him sees it. */
export const moveSchema = z.enum(['rush', 'drop', 'wall', 'widen', 'man', 'sit']);
export type Move = z.infer<typeof moveSchema>;

export const reactionSchema = z.strictObject({
  id: reactionIdSchema,
  move: moveSchema,
  /** In a coach's words: "drops to the hook", "comes off the edge". */
  says: z.string(),
  /** Where he is going, absolute yards; for a man assignment, where his man stands. */
  to: pointSchema,
});
export type Reaction = z.infer<typeof reactionSchema>;

export const defenderSchema = z.strictObject({
  id: defenderIdSchema,
  /** E, T, N, W, M, S, $, C, FS, SS … */
  label: z.string().min(1).max(4),
  level: levelSchema,
  at: pointSchema,
  /** First is what the call asks of him; the rest are what he may do instead. Never empty. */
  reactions: z.array(reactionSchema).min(1).readonly(),
});
export type Defender = z.infer<typeof defenderSchema>;

/** What can be said of a look as a whole; each is declared, never guessed from its name. */
export const lookTraitsSchema = z.strictObject({
  front: z.enum(['even', 'odd']),
  shell: z.enum(['zero', 'oneHigh', 'twoHigh']),
  /**
   * Middle of the field after the snap: a safety in it, or none. A linebacker who runs there from
   * his depth (two deep with a middle runner) leaves it open.
   */
  middle: z.enum(['open', 'closed']),
  coverage: z.enum(['man', 'zone', 'match']),
});
export type LookTraits = z.infer<typeof lookTraitsSchema>;

/** A look standing against one formation: eleven defenders, by rule, with what each may do. */
export const alignedLookSchema = z.strictObject({
  id: lookIdSchema,
  name: z.string().min(1).max(60),
  traits: lookTraitsSchema,
  defenders: z.array(defenderSchema).readonly(),
});
export type AlignedLook = z.infer<typeof alignedLookSchema>;

/** Which reaction each defender chose. A defender not named does the first of his reactions. */
export const reactionChoiceSchema = z.record(defenderIdSchema, reactionIdSchema).readonly();
export type ReactionChoice = z.infer<typeof reactionChoiceSchema>;
