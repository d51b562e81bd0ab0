import type { Front } from '../fronts/front.ts';
import type { DefenderRule, Job, Stand } from '../looks/recipe.ts';
import {
  apex,
  atLeast,
  defender,
  edge,
  over,
  post,
  rush,
  shell,
  technique,
  wall,
  zone,
} from '../looks/rule.ts';
import { apexWill, boxWill, corner, droppedSafety, mike, overhang, safety } from './men.ts';

export const threeTraits = { shell: 'oneHigh', middle: 'closed', coverage: 'zone' } as const;
export const threeMatchTraits = { shell: 'oneHigh', middle: 'closed', coverage: 'match' } as const;
export const rotateTraits = { shell: 'twoHigh', middle: 'closed', coverage: 'zone' } as const;

const thirds: readonly DefenderRule[] = [
  corner('strong', { inside: 1, depth: 7 }, zone('third', 'strong')),
  corner('weak', { inside: 1, depth: 7 }, zone('third', 'weak')),
];
const middle = safety('free-safety', post(13), { does: zone('middleThird', 'strong') });

const threeDeep = (
  front: Front,
  strong: { stand: Stand; does: Job },
  weak: { stand: Stand; does: Job },
): readonly DefenderRule[] => [
  mike(front, zone('hook', 'strong')),
  boxWill(front, zone('hook', 'weak')),
  overhang(front, [strong.stand], strong.does),
  droppedSafety([weak.stand], weak.does),
  ...thirds,
  middle,
];

/** Three deep, four under; the curl-flat men stand outside the slots. */
export const three = (front: Front): readonly DefenderRule[] =>
  threeDeep(
    front,
    { stand: apex('strong', 2, 'outside', 5), does: zone('curlFlat', 'strong') },
    { stand: over('weak', 2, -1, 6), does: zone('curlFlat', 'weak') },
  );

/** Three deep with the slots matched from the inside. */
export const threeMatch = (front: Front): readonly DefenderRule[] =>
  threeDeep(
    front,
    { stand: over('strong', 2, 1, 5), does: wall('strong', 2) },
    { stand: over('weak', 2, 1, 5.5), does: wall('weak', 2) },
  );

/** Two-high before the snap; the strong safety comes down and the free safety turns to the middle. */
export const rotate = (front: Front): readonly DefenderRule[] => [
  mike(front, zone('middleHook', 'strong')),
  apexWill(front, zone('curlFlat', 'weak')),
  overhang(front, [over('strong', 2, 1, 5)], zone('hook', 'strong')),
  safety('strong-safety', shell('strong', 11), { does: zone('curlFlat', 'strong') }),
  safety('free-safety', shell('weak', 12), { does: zone('middleThird', 'weak') }),
  ...thirds,
];

/** From a stack: a man inside and a man outside the strong slot, three deep, the weak backer coming. */
export const threeInAndOut = (front: Front): readonly DefenderRule[] => [
  defender('sam', {
    label: 'S',
    level: 'second',
    stand: technique('strong', '4', 4.5),
    rather: [over('strong', 3, 1, 5), over('strong', 2, 2, 5)],
    does: zone('hook', 'strong'),
  }),
  defender('mike', { label: 'M', level: 'second', stand: front.mike, does: zone('hook', 'weak') }),
  defender('will', { label: 'W', level: 'second', stand: front.will, does: rush }),
  overhang(front, [apex('strong', 2, 'outside', 5)], zone('curlFlat', 'strong')),
  droppedSafety([apex('weak', 2, 'outside', 5)], zone('curlFlat', 'weak')),
  ...thirds,
  middle,
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
  middle,
];

/** Five rush with the overhang; three under, three deep. */
export const fireStrong = (front: Front): readonly DefenderRule[] => [
  overhang(front, [edge('strong', 1.5, 2)], rush),
  mike(front, zone('middleHook', 'strong'), [
    { when: { strong: atLeast(3) }, job: wall('strong', 3) },
  ]),
  apexWill(front, zone('curlFlat', 'weak')),
  safety('strong-safety', edge('strong', 2, 7), {
    level: 'second',
    rather: [over('strong', 2, 1, 7)],
    does: zone('curlFlat', 'strong'),
  }),
  ...thirds,
  middle,
];

/** Five rush with Mike through the middle; three under, three deep. */
export const fireMiddle = (front: Front): readonly DefenderRule[] => [
  defender('mike', { label: 'M', level: 'second', stand: { ...front.mike, depth: 3 }, does: rush }),
  boxWill(front, zone('middleHook', 'weak')),
  overhang(front, [over('strong', 2, 1, 5)], zone('curlFlat', 'strong')),
  droppedSafety([over('weak', 2, 1, 6)], zone('curlFlat', 'weak')),
  ...thirds,
  middle,
];
