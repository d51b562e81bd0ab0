import { defenderIdSchema, lookIdSchema } from '../ids.ts';
import type { Level, LookTraits } from '../look.ts';
import type {
  Anchor,
  DefenderRule,
  Flank,
  Job,
  LookRecipe,
  ManJob,
  Stand,
  Target,
  Technique,
  When,
  Zone,
} from './recipe.ts';

/** Short words to write a recipe with. They only build data: what it means is in the interpreters. */

/** Depth of a down lineman. */
const downDepth = 0.8;

export const technique = (side: Flank, name: Technique, depth = downDepth) =>
  ({ kind: 'technique', side, technique: name, depth }) as const satisfies Anchor;

export const edge = (side: Flank, yards: number, depth: number) =>
  ({ kind: 'edge', side, yards, depth }) as const satisfies Anchor;

export const post = (depth: number) => ({ kind: 'post', depth }) as const satisfies Anchor;

export const shell = (side: Flank, depth: number) =>
  ({ kind: 'shell', side, depth }) as const satisfies Anchor;

export const over = (side: Flank, receiver: number, inside: number, depth: number): Stand => ({
  kind: 'over',
  side,
  receiver,
  inside,
  depth,
});

export const apex = (
  side: Flank,
  receiver: number,
  toward: 'inside' | 'outside',
  depth: number,
): Stand => ({ kind: 'apex', side, receiver, toward, depth });

export const onMan = (inside: number, depth: number): Stand => ({ kind: 'onMan', inside, depth });

export const rush: Job = { kind: 'rush' };

export const zone = (name: Zone, side: Flank) =>
  ({ kind: 'zone', zone: name, side }) as const satisfies Job;

export const wall = (side: Flank, receiver: number): Job => ({ kind: 'wall', side, receiver });

export const man = (takes: readonly Target[], free: ManJob['free']): Job => ({
  kind: 'man',
  takes: [...takes],
  free,
});

/** Exactly, or at least, so many receivers. */
export const exactly = (count: number) => ({ from: count, to: count });
export const atLeast = (count: number) => ({ from: count, to: 11 });

export interface RuleParts {
  readonly label: string;
  readonly level: Level;
  readonly stand: Anchor;
  /** Places that come before the anchor. */
  readonly rather?: readonly (Stand | { readonly when: When; readonly at: Stand })[];
  readonly does: Job;
  readonly ratherDoes?: readonly { readonly when: When; readonly job: Job }[];
}

export function defender(id: string, parts: RuleParts): DefenderRule {
  const { label, level, stand, rather = [], does, ratherDoes = [] } = parts;
  return {
    id: defenderIdSchema.parse(id),
    label,
    level,
    stand: {
      rules: rather.map((rule) => ('at' in rule ? rule : { when: {}, at: rule })),
      otherwise: stand,
    },
    does: { rules: ratherDoes, otherwise: does },
  };
}

export const look = (
  id: string,
  name: string,
  traits: LookTraits,
  ...groups: readonly (readonly DefenderRule[])[]
): LookRecipe => ({ id: lookIdSchema.parse(id), name, traits, defenders: groups.flat() });
