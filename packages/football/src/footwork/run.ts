import { z } from 'zod';
import { pointSchema } from '../geometry.ts';
import { gaitSchema } from './costs.ts';

const seconds = z.number().min(0).max(5);

/** Straight on to a point, absolute yards. */
export const legSchema = z.strictObject({
  to: pointSchema,
  gait: gaitSchema,
  /** Seconds lost there before he goes on: a hesitation, a stutter, a look back. */
  hesitate: seconds,
});
export type Leg = z.infer<typeof legSchema>;

/** What a man is going to do with his feet, without the clock. */
export const runSchema = z.strictObject({
  from: pointSchema,
  start: z.discriminatedUnion('kind', [
    /** Seconds from time 0 to his first movement: reaction, or the release's hesitation. */
    z.strictObject({ kind: z.literal('still'), delay: seconds }),
    /** Under way at time 0, as a man in motion at the snap; yd/s, along his first leg. */
    z.strictObject({ kind: z.literal('moving'), speed: z.number().min(0).max(14) }),
  ]),
  legs: z.array(legSchema).max(100).readonly(),
  /** At the end of the last leg he is at full speed, or has come to a stand. */
  finish: z.enum(['through', 'stop']),
});
export type Run = z.infer<typeof runSchema>;

/** Who runs: V in yd/s, τ in s. `SprintPreset` is one. */
export const runnerSchema = z.object({
  maxSpeed: z.number().min(1).max(14),
  tau: z.number().min(0.3).max(3),
});
