import type { Front } from '../fronts/front.ts';
import type { DefenderRule, Job } from '../looks/recipe.ts';
import { atLeast, man, onMan, over, shell, wall, zone } from '../looks/rule.ts';
import { halves, turnsToMiddle } from './deep.ts';
import {
  apexWill,
  type Conditional,
  corner,
  manCorner,
  manMike,
  manWill,
  mike,
  outsideSlot,
  overhang,
  type Rather,
  safety,
} from './men.ts';

export const twoTraits = { shell: 'twoHigh', middle: 'open', coverage: 'zone' } as const;
export const twoManTraits = { shell: 'twoHigh', middle: 'open', coverage: 'man' } as const;
export const robberTraits = { shell: 'twoHigh', middle: 'closed', coverage: 'man' } as const;

const squat = { inside: -1, depth: 5 };

/** Against three to a side the third is Mike's if he goes up the middle between the halves. */
const thirdIsHis: Conditional = [{ when: { strong: atLeast(3) }, job: wall('strong', 3) }];

const twoDeep = (
  front: Front,
  slot: Rather,
  middle: Job,
  will: DefenderRule,
  ratherDoes: Conditional = thirdIsHis,
): readonly DefenderRule[] => [
  mike(front, middle, ratherDoes),
  will,
  overhang(front, slot, zone('hook', 'strong')),
  corner('strong', squat, zone('flat', 'strong')),
  corner('weak', squat, zone('flat', 'weak')),
  ...halves,
];

/** Two deep halves, five under; the corners squat outside and send #1 in. */
export const two = (front: Front): readonly DefenderRule[] =>
  twoDeep(
    front,
    [over('strong', 2, 1, 5)],
    zone('middleHook', 'strong'),
    apexWill(front, zone('hook', 'weak')),
  );

/** The same with the overhang outside the slot, so that the flat is his too. */
export const twoOverhangOutside = (front: Front): readonly DefenderRule[] =>
  twoDeep(front, outsideSlot, zone('middleHook', 'strong'), apexWill(front, zone('hook', 'weak')));

/**
 * The same with the middle linebacker running deep down the middle. The middle counts as open all
 * the same: that word is about the safeties, who both stay outside; the runner starts at linebacker
 * depth with his back to the throw, and a passer who sees two high reads the halves, not him.
 */
export const tampa = (front: Front): readonly DefenderRule[] =>
  twoDeep(
    front,
    [over('strong', 2, 1, 5)],
    zone('pole', 'strong'),
    apexWill(front, zone('hook', 'weak'), 'DB'),
    [],
  );

const press = { inside: 0.75, depth: 1 };

const fiveMan = (front: Front): readonly DefenderRule[] => [
  manMike(
    front,
    man(['strong3', 'back1', 'back2', 'strong4', 'weak2'], zone('middleHook', 'strong')),
  ),
  manWill(front, man(['weak2', 'back1', 'back2', 'weak3', 'strong3'], zone('hook', 'weak'))),
  overhang(front, [onMan(0.75, 4)], man(['strong2', 'strong3', 'back1'], zone('hook', 'strong'))),
  manCorner('strong', press, man(['strong1', 'strong2'], zone('flat', 'strong'))),
  manCorner('weak', press, man(['weak1', 'strong4', 'strong3'], zone('flat', 'weak'))),
];

/** Two deep halves over five men who cover from the inside. */
export const twoMan = (front: Front): readonly DefenderRule[] => [...fiveMan(front), ...halves];

/** Two-high before the snap; then one safety takes the deep middle and the other robs under it. */
export const robber = (front: Front): readonly DefenderRule[] => [
  ...fiveMan(front),
  safety('strong-safety', shell('strong', 11), { does: zone('robber', 'strong') }),
  turnsToMiddle,
];
