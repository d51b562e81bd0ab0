import type { Front } from '../fronts/front.ts';
import type { DefenderRule } from '../looks/recipe.ts';
import { atLeast, defender, edge, exactly, over, rush, wall, zone } from '../looks/rule.ts';
import { middleThird, thirds } from './deep.ts';
import { apexWill, boxWill, droppedSafety, mike, overhang, safety } from './men.ts';

/** Fire zones: five rush, three under, three deep. */
export const fireTraits = { shell: 'oneHigh', middle: 'closed', coverage: 'zone' } as const;

const empty = { backs: exactly(0) };

/**
 * The overhang comes off the strong edge and the safety takes his place over the slot. Against an
 * empty backfield he is checked off it: three under cannot hold five who are out at once.
 */
export const fireStrong = (front: Front): readonly DefenderRule[] => [
  overhang(front, [{ when: empty, at: over('strong', 2, 1, 5) }, edge('strong', 1.5, 2)], rush, [
    { when: empty, job: zone('hook', 'strong') },
  ]),
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
  middleThird,
];

/** Mike comes through the middle, and shows it a step early. */
export const fireMiddle = (front: Front): readonly DefenderRule[] => [
  defender('mike', {
    label: 'M',
    level: 'second',
    stand: { ...front.mike, depth: 3 },
    does: rush,
  }),
  boxWill(front, zone('middleHook', 'weak')),
  overhang(front, [over('strong', 2, 1, 5)], zone('curlFlat', 'strong')),
  droppedSafety([over('weak', 2, 1, 6)], zone('curlFlat', 'weak')),
  ...thirds,
  middleThird,
];

/** Will comes off the weak edge and the safety comes down behind him. */
export const fireWeak = (front: Front): readonly DefenderRule[] => [
  defender('will', { label: 'W', level: 'second', stand: edge('weak', 1.5, 2), does: rush }),
  mike(front, zone('middleHook', 'strong'), [
    { when: { strong: atLeast(3) }, job: wall('strong', 3) },
  ]),
  overhang(front, [over('strong', 2, 1, 5)], zone('curlFlat', 'strong')),
  droppedSafety([over('weak', 2, 1, 6)], zone('curlFlat', 'weak')),
  ...thirds,
  middleThird,
];
