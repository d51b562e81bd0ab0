import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { atLeast, block, branch, draw, ending, id, is, oneOf, row, target, under } from './draw.ts';
import { bracketMan, headUpToInside } from './option-card.ts';

/** One tight end up the seam, the other across under him; the quarterback reads the middle of the field. */
export const quarry: RuledPlay = draw({
  name: 'Quarry, two tight ends',
  concept: 'Quarry',
  formation: 'two-tight-ends',
  runs: {
    Y: { name: 'Seam', stem: [[0, 8]], finish: [[2, 22]] },
    U: { name: 'Crosser', stem: [[0, 6]], finish: [[14, 9]] },
    X: { name: 'Post', stem: [[0, 12]], finish: [[6, 26]] },
    Z: { name: 'Comeback', stem: [[0, 15]], finish: [[-3, 12]] },
  },
  cards: [
    {
      player: id('q'),
      head: {
        title: 'High to low off the middle of the field',
        key: { ...headUpToInside, levels: ['deep'], maxDepth: 20, over: id('x'), reach: 20 },
        sideMan: bracketMan,
        policy: 'first',
        whenInDoubt: branch('cross'),
        noKey: null,
      },
      branches: [target('SEAM', 'y'), target('CROSS', 'u')],
      rows: [
        row(
          'open',
          [oneOf('middle', 'open'), oneOf('coverage', 'zone')],
          'seam',
          'Middle open, and they drop to zones: the seam.',
        ),
        row(
          'carried',
          [oneOf('middle', 'open'), oneOf('coverage', 'man', 'match')],
          'cross',
          'Middle open, but somebody carries the seam: the crosser under it.',
        ),
        row('closed', [oneOf('middle', 'closed')], 'cross', 'Middle closed: the crosser under it.'),
      ],
    },
  ],
});

/** Empty: the slot sits in a hole against zone and keeps going against a man who runs with him. */
export const juniper: RuledPlay = draw({
  name: 'Juniper, empty',
  concept: 'Juniper',
  formation: 'empty',
  runs: {
    X: { name: 'Slant', stem: [[0, 3]], finish: [[7, 9]] },
    F: { name: 'Flat', stem: [[-2, 2]], finish: [[-8, 4]] },
    A: { name: 'Juniper', stem: [[0, 8]], hesitate: 0.2 },
    H: { name: 'Seam', stem: [[0, 20]] },
    Z: { name: 'Hitch', stem: [[0, 6]], finish: [[1, 5]] },
  },
  cards: [
    {
      player: id('a'),
      head: {
        title: 'Sit in the hole, run from a man',
        key: headUpToInside,
        sideMan: bracketMan,
        policy: 'first',
        whenInDoubt: branch('sit'),
        noKey: branch('sit'),
      },
      branches: [
        ending('SIT', { kind: 'sit' }, 5, 6, 7),
        ending('ACROSS', { kind: 'in', angle: 85, run: 9 }, 5, 6, 7),
        ending('AWAY', { kind: 'out', angle: 90, run: 7 }, 5, 6, 7),
      ],
      rows: [
        row('blitz', [is('keyRushes', true)], 'across', 'He comes: cross behind him.'),
        row(
          'man-inside',
          [oneOf('keyMove', 'man', 'wall'), under('roomInside', 1.5)],
          'away',
          'A man inside of you: away from him.',
        ),
        row(
          'man',
          [oneOf('keyMove', 'man', 'wall'), atLeast('roomInside', 1.5)],
          'across',
          'A man outside of you or late: across his face.',
        ),
        row('zone', [oneOf('keyMove', 'drop', 'widen')], 'sit', 'He leaves the hole: sit in it.'),
        row(
          'squat',
          [oneOf('keyMove', 'sit')],
          'across',
          'He sits in the hole: across behind him.',
        ),
      ],
    },
  ],
});

/** Bunch: one on the ball, one to the flat, one over the top. No reads yet. */
export const anvil: RuledPlay = draw({
  name: 'Anvil, bunch',
  concept: 'Anvil',
  formation: 'bunch',
  runs: {
    H: { name: 'Corner', stem: [[0, 10]], finish: [[-7, 18]] },
    Z: { name: 'Spot', stem: [[2, 4]], finish: [[4, 6]] },
    Y: { name: 'Flat', stem: [[-2, 1.5]], finish: [[-12, 3]] },
    X: { name: 'In', stem: [[0, 11]], finish: [[9, 11]] },
  },
});

/** Split backs: the back checks his man before he goes out. */
export const tiller: RuledPlay = draw({
  name: 'Tiller, split backs',
  concept: 'Tiller',
  formation: 'two-backs',
  motions: { Z: { steps: [[6, 0]], atSnap: 'moving' } },
  runs: {
    X: { name: 'Curl', stem: [[0, 12]], finish: [[1.5, 10]] },
    Z: { name: 'Flat', stem: [[-2, 3]], finish: [[-8, 4]] },
    Y: { name: 'Stick', stem: [[0, 5.5]], finish: [[-1.5, 5.5]] },
    F: {
      name: 'Check and swing',
      stem: [[-2, 1]],
      finish: [[-8, 4]],
      hesitate: 0.8,
      rounded: true,
    },
  },
  cards: [
    {
      player: id('b'),
      head: {
        title: 'Check, then release',
        key: {
          ...headUpToInside,
          levels: ['second'],
          over: id('rt'),
          direction: 'outside',
          reach: 8,
        },
        sideMan: bracketMan,
        policy: 'unique',
        whenInDoubt: branch('stay'),
        noKey: branch('release'),
      },
      branches: [
        block('STAY', 'Block the man outside the tackle'),
        block('RELEASE', 'Release to the flat'),
      ],
      rows: [
        row('comes', [is('keyRushes', true)], 'stay', 'Your man comes: he is yours.'),
        row('drops', [is('keyRushes', false)], 'release', 'He drops: release.'),
      ],
    },
  ],
});

/** A long name and a long list, so that the screens are seen with both. */
export const tidewater: RuledPlay = draw({
  name: 'Tidewater, trips right with a tight end, short motion, back away from strength',
  concept: 'Tidewater',
  formation: 'trips-tight-end',
  motions: { H: { steps: [[3, 0]], atSnap: 'moving' } },
  runs: {
    X: { name: 'Slant', stem: [[0, 3]], finish: [[8, 10]] },
    H: { name: 'Over the ball', stem: [[0, 5]], finish: [[10, 7]] },
    Z: { name: 'Go', stem: [[-1, 25]], side: 'outside' },
    Y: { name: 'Stick', stem: [[0, 5.5]], finish: [[-1.5, 5.5]] },
    F: { name: 'Swing', stem: [[-4, -0.5]], finish: [[-9, 1.5]], rounded: true },
  },
});
