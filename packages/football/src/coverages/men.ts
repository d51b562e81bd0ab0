import type { Front } from '../fronts/front.ts';
import type { Anchor, DefenderRule, Flank, Job } from '../looks/recipe.ts';
import {
  apex,
  atLeast,
  defender,
  edge,
  exactly,
  onMan,
  over,
  type RuleParts,
  technique,
} from '../looks/rule.ts';

/** The men behind the front, each with the ways he fits himself to a formation. Common practice, no single source. */

export type Conditional = NonNullable<RuleParts['ratherDoes']>;
export type Rather = NonNullable<RuleParts['rather']>;

/** The strong corner and the weak one. */
export const cornerId: Readonly<Record<Flank, string>> = {
  strong: 'strong-corner',
  weak: 'weak-corner',
};

/**
 * A corner over #1. Where #1 has reduced his split he goes to the outside and off, since nobody is
 * left out there; without a #1 he is the force man outside the line.
 */
export const corner = (
  side: Flank,
  at: { inside: number; depth: number },
  does: Job,
): DefenderRule =>
  defender(cornerId[side], {
    label: 'C',
    level: 'corner',
    stand: edge(side, 4, 5),
    rather: [
      { when: { reduced: side }, at: over(side, 1, -1, Math.max(at.depth, 5)) },
      over(side, 1, at.inside, at.depth),
    ],
    does,
  });

/** A corner over the man he takes. */
export const manCorner = (
  side: Flank,
  at: { inside: number; depth: number },
  does: Job,
): DefenderRule =>
  defender(cornerId[side], {
    label: 'C',
    level: 'corner',
    stand: edge(side, 4, 5),
    rather: [
      { when: { reduced: side }, at: onMan(-0.75, Math.max(at.depth, 5)) },
      onMan(at.inside, at.depth),
    ],
    does,
  });

/** Mike moves toward a third receiver, and out to him when the backfield is empty. */
export const mike = (front: Front, does: Job, ratherDoes: Conditional = []): DefenderRule =>
  defender('mike', {
    label: 'M',
    level: 'second',
    stand: front.mike,
    rather: [
      { when: { strong: atLeast(3), backs: exactly(0) }, at: over('strong', 3, 1.5, 5) },
      { when: { strong: atLeast(3) }, at: technique('strong', '5', 4.5) },
    ],
    does,
    ratherDoes,
  });

/** Mike in the box, whatever is outside him. */
export const boxMike = (front: Front, does: Job): DefenderRule =>
  defender('mike', { label: 'M', level: 'second', stand: front.mike, does });

/** Mike with a man to take. */
export const manMike = (front: Front, does: Job): DefenderRule =>
  defender('mike', { label: 'M', level: 'second', stand: front.mike, rather: [onMan(1, 5)], does });

/** Will in the box, whatever is outside him. */
export const boxWill = (front: Front, does: Job): DefenderRule =>
  defender('will', { label: 'W', level: 'second', stand: front.will, does });

/** Will between the second receiver and the tackle; in the box where there is none. */
export const apexWill = (front: Front, does: Job, label = 'W'): DefenderRule =>
  defender('will', {
    label,
    level: 'second',
    stand: front.will,
    rather: [apex('weak', 2, 'inside', 5)],
    does,
  });

/** Will with a man to take. */
export const manWill = (front: Front, does: Job): DefenderRule =>
  defender('will', { label: 'W', level: 'second', stand: front.will, rather: [onMan(1, 5)], does });

/** The overhang to strength; the front says where he is over a tight end, the coverage the rest. */
export const overhang = (
  front: Front,
  rather: Rather,
  does: Job,
  ratherDoes: Conditional = [],
): DefenderRule =>
  defender('overhang', {
    label: front.overhang.label,
    level: 'second',
    stand: front.overhang.stand,
    rather: [...front.overhang.rather, ...rather],
    does,
    ratherDoes,
  });

/** Places of an overhang outside the strong slot: on the way to #1, or on #2's outside where there are three. */
export const outsideSlot: Rather = [
  { when: { strong: atLeast(3) }, at: over('strong', 2, -1, 5) },
  apex('strong', 2, 'outside', 5),
];

/** A safety; where he stands before the anchor, and what he does. */
export const safety = (
  id: 'strong-safety' | 'free-safety',
  stand: Anchor,
  parts: Pick<RuleParts, 'does'> & Partial<Pick<RuleParts, 'rather' | 'ratherDoes' | 'level'>>,
): DefenderRule =>
  defender(id, {
    label: id === 'strong-safety' ? 'SS' : 'FS',
    level: 'deep',
    stand,
    ...parts,
  });

/** A safety who has come down as the weak overhang. */
export const droppedSafety = (
  rather: Rather,
  does: Job,
  ratherDoes: Conditional = [],
): DefenderRule =>
  safety('strong-safety', edge('weak', 2, 5.5), { level: 'second', rather, does, ratherDoes });
