import { z } from 'zod';
import { defenderIdSchema, lookIdSchema } from '../ids.ts';
import { levelSchema, lookTraitsSchema } from '../look.ts';
import { plainText } from '../plain-text.ts';

/** Strong and weak of the formation faced: `count.ts` says which is which. */
export const flankSchema = z.enum(['strong', 'weak']);
export type Flank = z.infer<typeof flankSchema>;

/** What must be true of the formation for a line of a recipe to count. Everything named must hold. */
export const whenSchema = z.strictObject({
  /** Receivers to the strong side, at least / at most. */
  strong: z.strictObject({ from: z.number().int().min(0), to: z.number().int().min(0) }).optional(),
  weak: z.strictObject({ from: z.number().int().min(0), to: z.number().int().min(0) }).optional(),
  /** Men in the backfield beside the passer. */
  backs: z.strictObject({ from: z.number().int().min(0), to: z.number().int().min(0) }).optional(),
  /** Somebody is attached outside the tackle of this side: a tight end, or a third lineman. */
  covered: flankSchema.optional(),
  /** It is a tight end. */
  tightEnd: flankSchema.optional(),
  /** #1 of this side stands within 7.5 yards of the tackle. */
  reduced: flankSchema.optional(),
});
export type When = z.infer<typeof whenSchema>;

/** Alignment over the offensive line; a linebacker's "30" is technique 3 at his depth. */
export const techniqueSchema = z.enum([
  '0',
  '1',
  '2i',
  '2',
  '3',
  '4i',
  '4',
  '5',
  '6i',
  '6',
  '9',
  'wide9',
]);
export type Technique = z.infer<typeof techniqueSchema>;

const depth = z.number().min(0.6).max(40);
const receiverNumber = z.number().int().min(1).max(5);

const techniqueStand = z.strictObject({
  kind: z.literal('technique'),
  side: flankSchema,
  technique: techniqueSchema,
  depth,
});
/** So many yards outside the last man attached to the line. */
const edgeStand = z.strictObject({
  kind: z.literal('edge'),
  side: flankSchema,
  yards: z.number().min(-3).max(12),
  depth,
});
/** The deep middle: between the ball and the middle of the field. */
const postStand = z.strictObject({ kind: z.literal('post'), depth });
/** A deep half or quarter: over #2 of the side, else between #1 and the tackle. */
const shellStand = z.strictObject({ kind: z.literal('shell'), side: flankSchema, depth });

/** So many yards from the ball, whoever stands there: for a place that nothing else explains. */
const fromBallStand = z.strictObject({
  kind: z.literal('fromBall'),
  side: flankSchema,
  yards: z.number().min(0).max(60),
  depth,
});

/** A place that needs nobody of the offence to be anywhere: every defender has one to fall back on. */
export const anchorSchema = z.discriminatedUnion('kind', [
  techniqueStand,
  edgeStand,
  postStand,
  shellStand,
  fromBallStand,
]);
export type Anchor = z.infer<typeof anchorSchema>;

/** Where a defender stands, told by rule. A rule that needs a receiver who isn't there finds no place. */
export const standSchema = z.discriminatedUnion('kind', [
  techniqueStand,
  edgeStand,
  postStand,
  shellStand,
  fromBallStand,
  /** Over a receiver; `inside` is yards toward the ball, negative is outside leverage. */
  z.strictObject({
    kind: z.literal('over'),
    side: flankSchema,
    receiver: receiverNumber,
    inside: z.number().min(-4).max(6),
    depth,
  }),
  /** Half-way between a receiver and the next man inside him, or outside him. */
  z.strictObject({
    kind: z.literal('apex'),
    side: flankSchema,
    receiver: receiverNumber,
    toward: z.enum(['inside', 'outside']),
    depth,
  }),
  /** Over the man he has been given; no place where that man is in the backfield. */
  z.strictObject({ kind: z.literal('onMan'), inside: z.number().min(-4).max(4), depth }),
]);
export type Stand = z.infer<typeof standSchema>;

/** A zone he drops to; `zones.ts` says where each lies and what it is called. */
export const zoneSchema = z.enum([
  'flat',
  'curlFlat',
  'hook',
  'middleHook',
  'pole',
  'robber',
  'third',
  'middleThird',
  'half',
  'quarter',
  'insideQuarter',
  'poach',
]);
export type Zone = z.infer<typeof zoneSchema>;

/** Whom a man defender takes, the man he would rather have first. */
export const targetSchema = z.enum([
  'strong1',
  'strong2',
  'strong3',
  'strong4',
  'weak1',
  'weak2',
  'weak3',
  'back1',
  'back2',
]);
export type Target = z.infer<typeof targetSchema>;

const zoneJobSchema = z.strictObject({
  kind: z.literal('zone'),
  zone: zoneSchema,
  side: flankSchema,
});
const rushJobSchema = z.strictObject({ kind: z.literal('rush') });

/** What the call asks of a defender. */
export const jobSchema = z.discriminatedUnion('kind', [
  rushJobSchema,
  zoneJobSchema,
  /** `free`: what he does when there are fewer to cover than there are men to cover them. */
  z.strictObject({
    kind: z.literal('man'),
    takes: z.array(targetSchema).min(1).readonly(),
    free: z.discriminatedUnion('kind', [rushJobSchema, zoneJobSchema]),
  }),
  /** Matches a receiver: holds the inside of him and carries him; drops to the hook if he isn't there. */
  z.strictObject({ kind: z.literal('wall'), side: flankSchema, receiver: receiverNumber }),
]);
export type Job = z.infer<typeof jobSchema>;
export type ManJob = Extract<Job, { kind: 'man' }>;

/** One of the eleven. The first rule that applies counts; where none does, what stands under `otherwise`. */
export const defenderRuleSchema = z.strictObject({
  id: defenderIdSchema,
  label: z
    .string()
    .min(1, 'Give him a letter.')
    .max(4, 'What he is called may be 4 characters at most.'),
  level: levelSchema,
  stand: z.strictObject({
    rules: z
      .array(z.strictObject({ when: whenSchema, at: standSchema }))
      .max(8)
      .readonly(),
    otherwise: anchorSchema,
  }),
  does: z.strictObject({
    rules: z
      .array(z.strictObject({ when: whenSchema, job: jobSchema }))
      .max(8)
      .readonly(),
    otherwise: jobSchema,
  }),
});
export type DefenderRule = z.infer<typeof defenderRuleSchema>;

/** A look as data: eleven rules and what they amount to. Any formation can be put before it. */
export const lookRecipeSchema = z.strictObject({
  id: lookIdSchema,
  name: plainText('The name of a look', 60, 'Give the look a name.'),
  traits: lookTraitsSchema,
  defenders: z
    .array(defenderRuleSchema)
    .length(11, {
      error: ({ input }) =>
        `a look has eleven defenders${Array.isArray(input) ? `, not ${input.length}` : ''}`,
    })
    .refine(
      (men) => new Set(men.map(({ id }) => id)).size === men.length,
      'two defenders have the same id',
    )
    .readonly(),
});
export type LookRecipe = z.infer<typeof lookRecipeSchema>;
