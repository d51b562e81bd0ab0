import type { Front } from '../fronts/front.ts';
import type { DefenderRule } from '../looks/recipe.ts';
import { defender, edge, man, onMan, rush, technique, zone } from '../looks/rule.ts';
import { middleThird } from './deep.ts';
import { boxMike, manCorner, manMike, manWill, overhang, safety } from './men.ts';

export const freeTraits = { shell: 'oneHigh', middle: 'closed', coverage: 'man' } as const;
export const zeroTraits = { shell: 'zero', middle: 'open', coverage: 'man' } as const;

const corners: readonly DefenderRule[] = [
  manCorner('strong', { inside: 1, depth: 7 }, man(['strong1', 'strong2'], zone('flat', 'strong'))),
  manCorner(
    'weak',
    { inside: 1, depth: 7 },
    man(['weak1', 'strong4', 'strong3'], zone('flat', 'weak')),
  ),
];
const slot = (front: Front): DefenderRule =>
  overhang(front, [onMan(0.75, 5)], man(['strong2', 'strong3', 'back1'], zone('hook', 'strong')));

/** The strong safety down over the second receiver to the weak side, or the third to strength. */
const down: DefenderRule = safety('strong-safety', edge('weak', 2, 6), {
  level: 'second',
  rather: [onMan(1, 6)],
  does: man(['weak2', 'strong3', 'back2', 'back1', 'strong4'], zone('hook', 'weak')),
});

/** Five in man, one deep in the middle, Mike free in the hole. */
export const free = (front: Front): readonly DefenderRule[] => [
  boxMike(front, zone('middleHook', 'strong')),
  manWill(front, man(['back1', 'back2', 'weak2', 'weak3', 'strong3'], zone('hook', 'weak'))),
  slot(front),
  down,
  ...corners,
  middleThird,
];

/** The same behind five rushers: nobody is left for the hole, Mike has the back. */
export const freeFiveRush = (front: Front): readonly DefenderRule[] => [
  manMike(front, man(['back1', 'back2', 'weak2', 'strong3'], zone('middleHook', 'strong'))),
  slot(front),
  down,
  ...corners,
  middleThird,
];

/** Six rush, five in man, nobody deep. Both linebackers show in the gaps. */
export const zero = (front: Front): readonly DefenderRule[] => [
  defender('mike', {
    label: 'M',
    level: 'second',
    stand: technique('strong', '1', 1.2),
    does: rush,
  }),
  defender('will', { label: 'W', level: 'second', stand: technique('weak', '3', 1.2), does: rush }),
  slot(front),
  down,
  safety('free-safety', technique('strong', '0', 7), {
    level: 'second',
    rather: [onMan(1, 6)],
    does: man(['back1', 'strong3', 'back2', 'weak2', 'strong4'], zone('middleHook', 'strong')),
  }),
  ...corners,
];

/** Zero behind a front that sends five of its own: Will is the sixth, Mike has the back. */
export const zeroFiveRush = (front: Front): readonly DefenderRule[] => [
  defender('will', { label: 'W', level: 'second', stand: technique('weak', '1', 1.8), does: rush }),
  manMike(front, man(['back1', 'back2', 'weak2', 'strong3'], zone('middleHook', 'strong'))),
  slot(front),
  down,
  ...corners,
];

/** Six on the line come; the linebackers, one safety and the corners have a man each. */
export const goalLineMan = (front: Front): readonly DefenderRule[] => [
  manMike(front, man(['back1', 'strong3', 'back2', 'strong2'], zone('middleHook', 'strong'))),
  manWill(front, man(['weak2', 'back2', 'back1', 'strong3'], zone('hook', 'weak'))),
  safety('strong-safety', technique('strong', '5', 5), {
    level: 'second',
    rather: [onMan(0.75, 5)],
    does: man(['strong2', 'strong3', 'weak2', 'back2'], zone('hook', 'strong')),
  }),
  manCorner('strong', { inside: 1, depth: 4 }, man(['strong1', 'strong2'], zone('flat', 'strong'))),
  manCorner(
    'weak',
    { inside: 1, depth: 4 },
    man(['weak1', 'strong4', 'strong3'], zone('flat', 'weak')),
  ),
];
