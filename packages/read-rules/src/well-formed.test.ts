import { describe, expect, it } from 'vitest';
import type { Condition, ReadCard } from './card.ts';
import type { RuledPlay } from './ruled-play.ts';
import { branch, card, doubles, h, is, oneOf, range, row } from './testing/cards.ts';
import { malformed } from './well-formed.ts';

const good = card([row('a', 'in', is('keyRushes', true))]);
const found = (...cards: readonly ReadCard[]): string[] =>
  malformed(doubles(cards)).map(({ code, path }) => `${code} ${path.join('.')}`);
const asking = (condition: Condition): string[] => found(card([row('a', 'in', condition)]));

describe('U4 what has no meaning', () => {
  it('is nothing in a good play', () => {
    expect(found(good)).toEqual([]);
  });

  it('two cards, rows, branches or players of one name, the second of them', () => {
    expect(found(good, good)).toEqual(['twoCards cards.1.player']);
    expect(found(card([...good.rows, ...good.rows]))).toEqual(['twoRowsOneId cards.0.rows.1.id']);
    expect(found({ ...good, branches: [...good.branches, branch('in')] })).toEqual([
      'twoBranchesOneId cards.0.branches.3.id',
    ]);
    const play = doubles();
    const [first] = play.players;
    if (!first) throw new Error('no players');
    expect(malformed({ ...play, players: [...play.players, first] })).toMatchObject([
      { code: 'twoPlayersOneId', path: ['players', 11, 'id'] },
    ]);
  });

  it('a fact asked in a way that does not fit it', () => {
    expect(asking(is('keyOffset', true))).toEqual(['wrongKind cards.0.rows.0.conditions.0.kind']);
    expect(asking(range('front', '[0,1]'))).toEqual(['wrongKind cards.0.rows.0.conditions.0.kind']);
    expect(asking(oneOf('keyRushes', 'yes'))).toEqual([
      'wrongKind cards.0.rows.0.conditions.0.kind',
    ]);
  });

  it('a bound or value outside the domain, its ends still inside', () => {
    expect(asking(range('roomInside', '[0,20]'))).toEqual([]);
    expect(asking(range('roomInside', '[-0.1,20.1]'))).toEqual([
      'outsideDomain cards.0.rows.0.conditions.0.from.at',
      'outsideDomain cards.0.rows.0.conditions.0.to.at',
    ]);
    expect(asking(oneOf('front', 'even', 'round'))).toEqual([
      'unknownValue cards.0.rows.0.conditions.0.values.1',
    ]);
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY])(
    'a number that is %s, wherever it stands',
    (n) => {
      const play = doubles([good]);
      const spoiled: readonly (readonly [RuledPlay, string])[] = [
        [{ ...play, situation: { ...play.situation, toGain: n } }, 'situation.toGain'],
        [
          {
            ...play,
            players: play.players.map((player, i) =>
              i === 2 ? { ...player, at: [0, n] as const } : player,
            ),
          },
          'players.2.at.1',
        ],
        [
          { ...play, motions: { [h]: { path: [[n, 0] as const], atSnap: 'set' as const } } },
          'motions.h.path.0.0',
        ],
        [
          {
            ...play,
            cards: [{ ...good, head: { ...good.head, sideMan: { width: n, depth: 1 } } }],
          },
          'cards.0.head.sideMan.width',
        ],
        [
          { ...play, cards: [{ ...good, branches: [branch('in', { decideBy: n })] }] },
          'cards.0.branches.0.decideBy',
        ],
        [
          {
            ...play,
            cards: [
              card([
                row('a', 'in', {
                  kind: 'range',
                  fact: 'keyOffset',
                  from: { at: n, closed: true },
                  to: null,
                }),
              ]),
            ],
          },
          'cards.0.rows.0.conditions.0.from.at',
        ],
      ];
      for (const [one, path] of spoiled) {
        expect(malformed(one).map((fault) => `${fault.code} ${fault.path.join('.')}`)).toEqual([
          `notANumber ${path}`,
        ]);
      }
    },
  );
});
