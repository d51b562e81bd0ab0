import type { Front } from '../fronts/front.ts';
import type { DefenderRule } from '../looks/recipe.ts';
import {
  apex,
  atLeast,
  defender,
  edge,
  over,
  rush,
  shell,
  technique,
  wall,
  zone,
} from '../looks/rule.ts';
import { middleThird, thirds, turnsToMiddle } from './deep.ts';
import {
  apexWill,
  boxWill,
  corner,
  droppedSafety,
  mike,
  outsideSlot,
  overhang,
  safety,
} from './men.ts';

export const threeTraits = { shell: 'oneHigh', middle: 'closed', coverage: 'zone' } as const;
export const threeMatchTraits = { shell: 'oneHigh', middle: 'closed', coverage: 'match' } as const;
export const rotateTraits = { shell: 'twoHigh', middle: 'closed', coverage: 'zone' } as const;

/** Three deep, four under; the curl-flat men stand outside the slots. */
export const three = (front: Front): readonly DefenderRule[] => [
  mike(front, zone('hook', 'strong')),
  boxWill(front, zone('hook', 'weak')),
  overhang(front, outsideSlot, zone('curlFlat', 'strong')),
  droppedSafety([over('weak', 2, -1, 6)], zone('curlFlat', 'weak')),
  ...thirds,
  middleThird,
];

/** Three deep with the inside receivers matched from the inside. */
export const threeMatch = (front: Front): readonly DefenderRule[] => [
  mike(front, zone('hook', 'strong'), [{ when: { strong: atLeast(3) }, job: wall('strong', 3) }]),
  boxWill(front, zone('hook', 'weak')),
  overhang(front, [over('strong', 2, 1, 5)], wall('strong', 2)),
  droppedSafety([over('weak', 2, 1, 5.5)], zone('curlFlat', 'weak'), [
    { when: { weak: atLeast(2) }, job: wall('weak', 2) },
  ]),
  ...thirds,
  middleThird,
];

/**
 * Sky: two-high before the snap; the strong safety comes down to the flat and the free safety turns
 * to the middle.
 */
export const rotate = (front: Front): readonly DefenderRule[] => [
  mike(front, zone('middleHook', 'strong')),
  apexWill(front, zone('curlFlat', 'weak')),
  overhang(front, [over('strong', 2, 1, 5)], zone('hook', 'strong')),
  safety('strong-safety', shell('strong', 11), { does: zone('curlFlat', 'strong') }),
  turnsToMiddle,
  ...thirds,
];

/** Buzz: the strong safety comes down inside, to the hook; the overhang has the flat. */
export const buzz = (front: Front): readonly DefenderRule[] => [
  mike(front, zone('hook', 'weak')),
  apexWill(front, zone('curlFlat', 'weak')),
  overhang(front, outsideSlot, zone('curlFlat', 'strong')),
  safety('strong-safety', shell('strong', 11), { does: zone('hook', 'strong') }),
  turnsToMiddle,
  ...thirds,
];

/** Cloud: the strong corner squats in the flat and the strong safety has the third behind him. */
export const cloud = (front: Front): readonly DefenderRule[] => [
  mike(front, zone('middleHook', 'strong'), [
    { when: { strong: atLeast(3) }, job: wall('strong', 3) },
  ]),
  apexWill(front, zone('curlFlat', 'weak')),
  overhang(front, [over('strong', 2, 1, 5)], zone('hook', 'strong')),
  corner('strong', { inside: -1, depth: 5 }, zone('flat', 'strong')),
  safety('strong-safety', shell('strong', 12), { does: zone('third', 'strong') }),
  turnsToMiddle,
  corner('weak', { inside: 1, depth: 7 }, zone('third', 'weak')),
];

/** From a stack: a man inside and a man outside the strong slot, the weak backer coming; three deep, four under. */
export const threeInAndOut = (front: Front): readonly DefenderRule[] => [
  defender('sam', {
    label: 'S',
    level: 'second',
    stand: technique('strong', '4', 4.5),
    rather: [
      over('strong', 3, 1, 5),
      { when: { tightEnd: 'strong' }, at: technique('strong', '4', 4.5) },
      over('strong', 2, 2, 5),
    ],
    does: zone('hook', 'strong'),
  }),
  defender('mike', { label: 'M', level: 'second', stand: front.mike, does: zone('hook', 'weak') }),
  defender('will', { label: 'W', level: 'second', stand: front.will, does: rush }),
  overhang(front, [apex('strong', 2, 'outside', 5)], zone('curlFlat', 'strong')),
  droppedSafety([apex('weak', 2, 'outside', 5)], zone('curlFlat', 'weak')),
  ...thirds,
  middleThird,
];

/** Three rush, eight drop: three deep over five under, the fifth in the middle. */
export const dropEight = (front: Front): readonly DefenderRule[] => [
  mike(front, zone('hook', 'strong')),
  boxWill(front, zone('hook', 'weak')),
  overhang(front, [over('strong', 2, -1, 5)], zone('curlFlat', 'strong')),
  defender('jack', {
    label: 'J',
    level: 'second',
    stand: edge('weak', 2, 4.5),
    rather: [over('weak', 2, -1, 5)],
    does: zone('curlFlat', 'weak'),
  }),
  safety('strong-safety', technique('strong', '1', 9), { does: zone('robber', 'strong') }),
  ...thirds,
  middleThird,
];
