import type { ReadCard } from '@stemline/read-rules/card';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { atLeast, branch, draw, is, row, under } from './draw.ts';
import { endings, optionCard, passerCard } from './option-card.ts';

/** The staff's option route: the slot wins in or pivots out, with an in-breaker behind him. */
// Offsets are from where the slot stands, a yard and a half off the ball: he breaks 5.5 yd past the line.
const option = { name: 'Lantern', stem: [[0, 7]], hesitate: 0.2 } as const;
const behind = { name: 'In behind', stem: [[0, 12]], finish: [[9, 12]] } as const;
const clear = { name: 'Post', stem: [[0, 12]], finish: [[6, 26]] } as const;
const seam = { name: 'Seam', stem: [[0, 20]] } as const;
const swing = { name: 'Swing', stem: [[-4, -0.5]], finish: [[-9, 1.5]], rounded: true } as const;

export const lantern: RuledPlay = draw({
  name: 'Lantern, doubles right',
  concept: 'Lantern',
  formation: 'doubles',
  runs: { H: option, Z: behind, X: clear, A: seam, F: swing },
  cards: [optionCard('H'), passerCard('H', 'Z')],
});

/** Planted: nobody wrote what H does when he is bracketed and the inside man stays. */
export const lanternTrips: RuledPlay = draw({
  name: 'Lantern, trips right',
  concept: 'Lantern',
  formation: 'trips',
  runs: { H: option, Z: behind, X: clear, A: seam, F: swing },
  cards: [withHole(optionCard('H'))],
});

function withHole(card: ReadCard): ReadCard {
  return {
    ...card,
    head: {
      ...card.head,
      title: 'Trips: still to be finished',
      policy: 'unique',
      whenInDoubt: null,
    },
    branches: [endings.in, endings.out],
    rows: [
      row(
        'bracket-leaves',
        [is('manOutside', true), is('keyRushes', true)],
        'in',
        'Bracketed, and the inside man comes: take his place.',
      ),
      row(
        'walled',
        [is('manOutside', false), under('roomInside', 2)],
        'out',
        'Walled off: pivot out.',
      ),
      row('win', [is('manOutside', false), atLeast('roomInside', 2)], 'in', 'You win inside: in.'),
    ],
  };
}

/** Planted: what two coaches wrote answers the same picture twice. */
export const lanternTight: RuledPlay = draw({
  name: 'Lantern, tight',
  concept: 'Lantern',
  formation: 'tight',
  runs: {
    H: option,
    X: { name: 'In behind', stem: [[0, 11]], finish: [[8, 11]] },
    Z: { name: 'Corner', stem: [[0, 11]], finish: [[-8, 19]] },
    Y: { name: 'Seam', stem: [[0, 18]] },
    F: { name: 'Swing', stem: [[-4, -0.5]], finish: [[-9, 1.5]], rounded: true },
  },
  cards: [withClash(optionCard('H'))],
});

function withClash(card: ReadCard): ReadCard {
  return {
    ...card,
    head: {
      ...card.head,
      title: 'Tight: two answers',
      policy: 'unique',
      whenInDoubt: branch('out'),
    },
    branches: [endings.in, endings.out, endings.sit],
    rows: [
      row('win', [atLeast('roomInside', 2)], 'in', 'You win inside: break in.'),
      row(
        'bracket',
        [is('manOutside', true), is('keyRushes', false)],
        'sit',
        'Bracketed and he stays: sit.',
      ),
      row(
        'walled',
        [is('manOutside', false), under('roomInside', 2)],
        'out',
        'He walls you off: pivot back out.',
      ),
    ],
  };
}
