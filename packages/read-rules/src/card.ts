import { pointSchema } from '@stemline/football/geometry';
import { playerIdSchema } from '@stemline/football/ids';
import { levelSchema } from '@stemline/football/look';
import { plainText } from '@stemline/football/plain-text';
import { releaseSchema } from '@stemline/football/play';
import { z } from 'zod';
import { factNameSchema } from './fact-name.ts';

const id = z.string().regex(/^[A-Za-z0-9_-]{1,40}$/, 'an id is 1 to 40 letters, digits, - or _');
export const rowIdSchema = id.brand<'RowId'>();
export type RowId = z.infer<typeof rowIdSchema>;
export const branchIdSchema = id.brand<'BranchId'>();
export type BranchId = z.infer<typeof branchIdSchema>;

const yards = z.number().min(-40).max(40);

/** Whom to scan, from where, which way, how far: yields one defender, none, or a tie. */
export const keySelectorSchema = z.strictObject({
  /** Levels that count; leaving out 'deep' leaves out a deep safety wherever he stands. */
  levels: z.array(levelSchema).min(1).readonly(),
  /** A defender deeper than this at the snap is never the key, whatever his level. Yards. */
  maxDepth: z.number().min(0).max(40),
  /** Scan starts head-up over this player; null means over the card's own player. */
  over: playerIdSchema.nullable(),
  direction: z.enum(['inside', 'outside']),
  /** How far the scan goes, yards from the start. */
  reach: z.number().min(0).max(40),
  /** How far on the wrong side of the start still counts as head-up. Yards. */
  headUp: z.number().min(0).max(3),
  /** Two candidates whose offsets differ by no more than this are a tie unless depth tells them apart. Yards. */
  tie: z.number().min(0).max(3),
});
export type KeySelector = z.infer<typeof keySelectorSchema>;

/** The man on the other side of the player who, with the key, makes a bracket. */
export const sideManSchema = z.strictObject({
  /** Within this many yards of the player, on the side away from the scan. */
  width: z.number().min(0).max(20),
  /** No deeper than this at the snap. Yards. */
  depth: z.number().min(0).max(20),
});
export type SideMan = z.infer<typeof sideManSchema>;

/** One end of an interval. `closed` says whether the bound itself belongs to it. */
const boundSchema = z.strictObject({ at: yards, closed: z.boolean() });
export type Bound = z.infer<typeof boundSchema>;

/** What a row asks of one fact. Facts that a row does not name may be anything. */
export const conditionSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('range'),
    fact: factNameSchema,
    from: boundSchema.nullable(),
    to: boundSchema.nullable(),
  }),
  z.strictObject({ kind: z.literal('is'), fact: factNameSchema, value: z.boolean() }),
  z.strictObject({
    kind: z.literal('oneOf'),
    fact: factNameSchema,
    values: z.array(z.string().min(1).max(30)).min(1).readonly(),
  }),
]);
export type Condition = z.infer<typeof conditionSchema>;

export const rowSchema = z.strictObject({
  id: rowIdSchema,
  conditions: z.array(conditionSchema).max(12).readonly(),
  branch: branchIdSchema,
  /** In the coach's own words; may be empty. */
  says: plainText('What a row says', 200),
});
export type Row = z.infer<typeof rowSchema>;

/** How a route is finished. Directions are the player's: in is toward the ball. */
export const finishSchema = z.discriminatedUnion('kind', [
  /** Degrees off straight upfield at the break: 90 is flat, less climbs, more comes back. */
  z.strictObject({
    kind: z.literal('in'),
    angle: z.number().min(10).max(170),
    run: z.number().min(0.5).max(40),
  }),
  z.strictObject({
    kind: z.literal('out'),
    angle: z.number().min(10).max(170),
    run: z.number().min(0.5).max(40),
  }),
  z.strictObject({ kind: z.literal('sit') }),
  z.strictObject({ kind: z.literal('on'), run: z.number().min(0.5).max(60) }),
  /** Offsets in yards from the break. */
  z.strictObject({
    kind: z.literal('path'),
    points: z.array(pointSchema).min(1).max(40).readonly(),
  }),
]);
export type Finish = z.infer<typeof finishSchema>;

const branchBase = {
  id: branchIdSchema,
  /** Short, as the players say it: IN, OUT, SIT. */
  name: plainText('The name of a branch', 30, 'Give the branch a name.'),
};
export const branchSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    ...branchBase,
    kind: z.literal('route'),
    finish: finishSchema,
    release: releaseSchema,
    /** Depth in yards past the line by which he has decided. */
    decideBy: z.number().min(0).max(30),
    /** Depths in yards between which he breaks. */
    breakAt: z.strictObject({ from: z.number().min(0).max(40), to: z.number().min(0).max(40) }),
    /** Show the quarterback his eyes this long after the break, seconds. */
    eyes: z.number().min(0).max(2),
  }),
  /** A quarterback's answer: throw to this player. */
  z.strictObject({ ...branchBase, kind: z.literal('target'), player: playerIdSchema }),
  /** A blocker's answer, in the staff's words. */
  z.strictObject({
    ...branchBase,
    kind: z.literal('block'),
    what: plainText('What he does', 60, 'Say what he does.'),
  }),
]);
export type Branch = z.infer<typeof branchSchema>;
export type RouteBranch = Extract<Branch, { kind: 'route' }>;

/** `first`: the first row that fits answers. `unique`: exactly one row may fit (DMN hit policies F and U). */
export const hitPolicySchema = z.enum(['first', 'unique']);
export type HitPolicy = z.infer<typeof hitPolicySchema>;

/** What stands at the head of a card; one value in the shared document. */
export const cardHeadSchema = z.strictObject({
  title: plainText('The title of a card', 60),
  key: keySelectorSchema,
  sideMan: sideManSchema,
  policy: hitPolicySchema,
  /** When in doubt. Null: the card has no such answer, and a hole is a gap. */
  whenInDoubt: branchIdSchema.nullable(),
  /** When the scan finds nobody. Null: the card has no such answer. */
  noKey: branchIdSchema.nullable(),
});
export type CardHead = z.infer<typeof cardHeadSchema>;

/** One player's decision on one play. One card per player: its identity is its player. */
export const readCardSchema = z.strictObject({
  player: playerIdSchema,
  head: cardHeadSchema,
  rows: z.array(rowSchema).max(2000).readonly(),
  branches: z.array(branchSchema).max(60).readonly(),
});
export type ReadCard = z.infer<typeof readCardSchema>;
