import { z } from 'zod';

const id = z
  .string()
  .regex(/^[A-Za-z0-9_-]{1,40}$/, 'an id is 1 to 40 letters, digits, - or _')
  .refine(
    (value) => value !== '__proto__' && value !== 'constructor' && value !== 'prototype',
    'this id is not allowed',
  );

/** One of the eleven of the offence on one play. */
export const playerIdSchema = id.brand<'PlayerId'>();
export type PlayerId = z.infer<typeof playerIdSchema>;

/** One defender of one look; stable for a look whatever it is aligned to. */
export const defenderIdSchema = id.brand<'DefenderId'>();
export type DefenderId = z.infer<typeof defenderIdSchema>;

export const lookIdSchema = id.brand<'LookId'>();
export type LookId = z.infer<typeof lookIdSchema>;

/** One alternative of what one defender does after the snap. */
export const reactionIdSchema = id.brand<'ReactionId'>();
export type ReactionId = z.infer<typeof reactionIdSchema>;
