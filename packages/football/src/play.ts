import { z } from 'zod';
import { dropIdSchema } from './footwork/drop.ts';
import { pointSchema } from './geometry.ts';
import { playerIdSchema } from './ids.ts';
import { plainText } from './plain-text.ts';
import { protectionCallSchema } from './protection.ts';
import { ruleCodeSchema } from './rulecode.ts';

/** What a player of the offence is by trade. Groups of a staff are made of these. */
export const positionSchema = z.enum(['C', 'G', 'T', 'TE', 'WR', 'RB', 'QB']);
export type Position = z.infer<typeof positionSchema>;

export const isLineman = (position: Position): boolean =>
  position === 'C' || position === 'G' || position === 'T';

/** Who a player is on the play; where he stands is kept apart, so that a drag never undoes a renaming. */
export const playerInfoSchema = z.strictObject({
  /** What the drawing calls him: X, Z, H, Y, F, Q, LT … */
  label: plainText('What he is called on the drawing', 4, 'Give him a letter.'),
  position: positionSchema,
  number: z.number().int().min(0).max(99),
});
export type PlayerInfo = z.infer<typeof playerInfoSchema>;

export const playerSchema = playerInfoSchema.extend({ id: playerIdSchema, at: pointSchema });
export type Player = z.infer<typeof playerSchema>;

/** How he leaves the line: at once, or after a hesitation of `seconds`; and past which shoulder. */
export const releaseSchema = z.strictObject({
  side: z.enum(['free', 'inside', 'outside']),
  hesitate: z.number().min(0).max(2),
});
export type Release = z.infer<typeof releaseSchema>;

const offsetPath = z.array(pointSchema).max(40).readonly();

/**
 * What a player runs. Points are offsets in yards from where he stands at the snap, so a route
 * follows its player. `stem` ends at the break; `finish` goes on from there. Whether he stops at the end, `route-end.ts` says.
 */
export const routeSchema = z.strictObject({
  release: releaseSchema,
  stem: offsetPath.refine((points) => points.length > 0, 'a route needs one point at least'),
  finish: offsetPath,
  /** Rounded or sharp at the break. */
  shape: z.enum(['sharp', 'rounded']),
  /** What the staff calls it; may be empty. */
  name: plainText('The name of a route', 40),
});
export type Route = z.infer<typeof routeSchema>;

/** Movement before the snap; offsets from where he first stood. He is snapped at the last point. */
export const motionSchema = z.strictObject({
  path: offsetPath.refine((points) => points.length > 0, 'a motion needs one point at least'),
  /** Still on the move at the snap, or set again for a full second (then it is a shift). */
  atSnap: z.enum(['moving', 'set']),
});
export type Motion = z.infer<typeof motionSchema>;

/** Where the ball lies between the sidelines. */
export const spotSchema = z.enum(['left', 'middle', 'right']);
export type Spot = z.infer<typeof spotSchema>;

export const situationSchema = z.strictObject({
  code: ruleCodeSchema,
  spot: spotSchema,
  /** Yards from the ball to the goal line that the offence attacks. */
  toGoal: z.number().int().min(1).max(99),
  down: z.number().int().min(1).max(4),
  toGain: z.number().int().min(1).max(99),
});
export type Situation = z.infer<typeof situationSchema>;

export const playNameSchema = plainText('A name', 80, 'Give the play a name.');
export const conceptSchema = plainText('A concept', 60);

/** A play as it is drawn. It may be illegal: `legality.ts` says whether it is. */
export const playSchema = z.strictObject({
  name: playNameSchema,
  /** What the staff calls the idea behind it; may be empty. */
  concept: conceptSchema,
  situation: situationSchema,
  players: z.array(playerSchema).max(11).readonly(),
  routes: z.record(playerIdSchema, routeSchema).readonly(),
  motions: z.record(playerIdSchema, motionSchema).readonly(),
  /** Left out, whoever stays in blocks, and the line is taken to be set the best way before each look. */
  protection: protectionCallSchema.optional(),
  /** The passer's feet. Left out, he is taken to drop as suits the first man he throws to. */
  drop: dropIdSchema.optional(),
});
export type Play = z.infer<typeof playSchema>;
