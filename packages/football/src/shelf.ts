import { fireMiddle, fireStrong, fireTraits, fireWeak } from './coverages/fire.ts';
import {
  free,
  freeFiveRush,
  freeTraits,
  goalLineMan,
  zero,
  zeroFiveRush,
  zeroTraits,
} from './coverages/free.ts';
import { palms, quarters, quartersTraits } from './coverages/quarters.ts';
import { six, sixTraits } from './coverages/six.ts';
import {
  buzz,
  cloud,
  dropEight,
  rotate,
  rotateTraits,
  three,
  threeInAndOut,
  threeMatch,
  threeMatchTraits,
  threeTraits,
} from './coverages/three.ts';
import {
  robber,
  robberTraits,
  tampa,
  two,
  twoMan,
  twoManTraits,
  twoOverhangOutside,
  twoTraits,
} from './coverages/two.ts';
import { bear } from './fronts/bear.ts';
import { dime } from './fronts/dime.ts';
import type { Front } from './fronts/front.ts';
import { goalLine } from './fronts/goal-line.ts';
import { odd, stack, tite } from './fronts/odd.ts';
import { over } from './fronts/over.ts';
import { under } from './fronts/under.ts';
import type { LookTraits } from './look.ts';
import type { DefenderRule, LookRecipe } from './looks/recipe.ts';
import { look } from './looks/rule.ts';

export { alignLook, alignShelf } from './looks/align.ts';
export { type LookRecipe, lookRecipeSchema } from './looks/recipe.ts';

const behind = (
  front: Front,
  coverage: (front: Front) => readonly DefenderRule[],
  traits: Omit<LookTraits, 'front'>,
  id: string,
  name: string,
): LookRecipe => look(id, name, { front: front.parity, ...traits }, front.rushers, coverage(front));

/** The looks every staff starts with: a front and a coverage each. Common practice, no single source. */
export const builtInLooks: readonly LookRecipe[] = [
  behind(over, quarters, quartersTraits, 'over-quarters', 'Over, quarters'),
  behind(over, two, twoTraits, 'over-two', 'Over, cover two'),
  behind(over, twoMan, twoManTraits, 'over-two-man', 'Over, two-man'),
  behind(over, three, threeTraits, 'over-three', 'Over, three-deep, nickel outside the slot'),
  behind(over, threeMatch, threeMatchTraits, 'over-three-match', 'Over, three-deep match'),
  behind(over, rotate, rotateTraits, 'over-rotate', 'Over, three-deep sky out of two-high'),
  behind(over, buzz, rotateTraits, 'over-buzz', 'Over, three-deep buzz out of two-high'),
  behind(over, cloud, rotateTraits, 'over-cloud', 'Over, three-deep cloud out of two-high'),
  behind(over, six, sixTraits, 'over-six', 'Over, quarter-quarter-half'),
  behind(over, free, freeTraits, 'over-free', 'Over, man free'),
  behind(over, robber, robberTraits, 'over-robber', 'Over, man with a safety robber'),
  behind(over, fireStrong, fireTraits, 'over-fire-strong', 'Over, fire zone off the strong edge'),
  behind(over, zero, zeroTraits, 'over-zero', 'Over, six-man pressure, no one deep'),
  behind(under, three, threeTraits, 'under-three', 'Under, three-deep'),
  behind(under, free, freeTraits, 'under-free', 'Under, man free'),
  behind(under, fireWeak, fireTraits, 'under-fire-weak', 'Under, fire zone off the weak edge'),
  behind(tite, quarters, quartersTraits, 'tite-quarters', 'Odd inside the tackles, quarters'),
  behind(odd, two, twoTraits, 'odd-two', 'Odd, cover two, no man outside the slot'),
  behind(
    odd,
    twoOverhangOutside,
    twoTraits,
    'odd-two-outside',
    'Odd, cover two, Sam outside the slot',
  ),
  behind(odd, free, freeTraits, 'odd-free', 'Odd, man free'),
  behind(odd, fireMiddle, fireTraits, 'odd-fire-middle', 'Odd, fire zone through the middle'),
  behind(
    stack,
    threeInAndOut,
    threeTraits,
    'stack-in-and-out',
    'Odd stack, three-deep, in and out on the slot',
  ),
  behind(stack, dropEight, threeTraits, 'stack-drop-eight', 'Odd stack, three rush, eight drop'),
  behind(bear, freeFiveRush, freeTraits, 'bear-free', 'Bear, man free'),
  behind(bear, zeroFiveRush, zeroTraits, 'bear-zero', 'Bear, six-man pressure, no one deep'),
  behind(goalLine, goalLineMan, zeroTraits, 'goal-line', 'Goal line, six down, man'),
  behind(dime, tampa, twoTraits, 'dime-tampa', 'Dime, cover two with a middle runner'),
  behind(dime, palms, quartersTraits, 'dime-palms', 'Dime, quarters reading the second receiver'),
];
