import type { KeySelector, ReadCard, SideMan } from '@stemline/read-rules/card';
import { atLeast, branch, ending, exactly, id, is, oneOf, row, target, under } from './draw.ts';

/**
 * Common practice, no single source. The key is the first defender from head-up to inside, near the
 * line; a deep safety is never counted.
 */
export const headUpToInside: KeySelector = {
  levels: ['line', 'second', 'corner'],
  maxDepth: 8,
  over: null,
  direction: 'inside',
  reach: 8,
  headUp: 0.5,
  tie: 0.5,
};

/** A man outside of him, near enough to take the out-break away. */
export const bracketMan: SideMan = { width: 4, depth: 7 };

export const endings = {
  in: ending('IN', { kind: 'in', angle: 90, run: 7 }),
  skinny: ending('SKINNY IN', { kind: 'in', angle: 75, run: 5 }),
  out: ending('OUT', { kind: 'out', angle: 95, run: 6 }),
  sit: ending('SIT', { kind: 'sit' }),
} as const;

/** The option card as this staff teaches it: it answers everything, and out when in doubt. */
export const optionCard = (player: string): ReadCard => ({
  player: id(player),
  head: {
    title: 'Win in, or pivot out',
    key: headUpToInside,
    sideMan: bracketMan,
    policy: 'first',
    whenInDoubt: branch('out'),
    noKey: branch('in'),
  },
  branches: [endings.in, endings.skinny, endings.out, endings.sit],
  rows: [
    row(
      'bracket-leaves',
      [is('manOutside', true), is('keyRushes', true)],
      'in',
      'Bracketed, and the inside man comes: take his place.',
    ),
    row('bracket', [is('manOutside', true)], 'sit', 'Bracketed: the out is gone. Sit.'),
    row('walled', [under('roomInside', 2)], 'out', 'He walls you off: pivot back out.'),
    row(
      'skinny',
      [
        atLeast('roomInside', 2),
        exactly('receiversThisSide', 2),
        oneOf('mikeLean', 'toward', 'balanced'),
      ],
      'skinnyin',
      'You win inside and the middle linebacker may come under it: stay skinny.',
    ),
    row('win', [atLeast('roomInside', 2)], 'in', 'You win inside: break in.'),
  ],
});

/** The quarterback reads the same man, and goes behind the option when it is squeezed. */
export const passerCard = (option: string, behind: string): ReadCard => ({
  player: id('q'),
  head: {
    title: `${option} first, ${behind} behind him`,
    key: { ...headUpToInside, over: id(option) },
    sideMan: bracketMan,
    policy: 'first',
    whenInDoubt: branch('option'),
    noKey: branch('option'),
  },
  branches: [target('OPTION', option), target('BEHIND', behind)],
  rows: [
    row(
      'squeezed',
      [under('roomInside', 1.5), under('roomOutside', 1.5)],
      'behind',
      'He is squeezed: throw behind him.',
    ),
    row(
      'option',
      [atLeast('roomInside', 1.5)],
      'option',
      'He has room inside: throw the option off his eyes.',
    ),
    row(
      'option-out',
      [under('roomInside', 1.5), atLeast('roomOutside', 1.5)],
      'option',
      'He has room outside: throw the option off his eyes.',
    ),
  ],
});
