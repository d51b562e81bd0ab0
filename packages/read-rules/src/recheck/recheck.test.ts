import { dropIdSchema } from '@stemline/football/footwork/drop';
import type { Point } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import { protections } from '@stemline/football/protection';
import { builtInLooks, type LookRecipe } from '@stemline/football/shelf';
import { edit, makeEdit } from '@stemline/testkit/edits';
import { fullBoard } from '@stemline/testkit/plays';
import { twoCoaches } from '@stemline/testkit/two-coaches';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { branchIdSchema, type ReadCard } from '../card.ts';
import { check } from '../check.ts';
import type { FactName } from '../fact-name.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { anyCard, branch, card, doubles, h, head, is, q, row } from '../testing/cards.ts';
import { createRecheck } from './recheck.ts';
import { same, shared } from './same.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

const shelf: readonly LookRecipe[] = builtInLooks.slice(0, 5);
const ids = doubles().players.map(({ id }) => id);

/** The quarterback's card over the slot, his rows leading to the slot or behind him. */
const passer = ({ rows, head: { policy } }: ReadCard): ReadCard => ({
  player: q,
  head: head({
    policy,
    noKey: branchIdSchema.parse('in'),
    key: { ...head().key, over: h, direction: 'outside' },
  }),
  rows,
  branches: ['in', 'out', 'sit'].map((name, i) => ({
    id: branchIdSchema.parse(name),
    name,
    kind: 'target',
    player: i === 0 ? h : (ids[i] as PlayerId),
  })),
});

/** Says the same, and is another object throughout, as what comes from another thread is. */
const copyOf = <Data>(data: Data): Data => JSON.parse(JSON.stringify(data));

type Step = (play: RuledPlay) => RuledPlay;
const withCard = (play: RuledPlay, one: ReadCard): RuledPlay => ({
  ...play,
  cards: [...play.cards.filter(({ player }) => player !== one.player), one],
});
const cardOf = (play: RuledPlay, player: PlayerId): ReadCard | undefined =>
  play.cards.find((one) => one.player === player);
const anyone = fc.constantFrom(...ids);
const someFacts: readonly FactName[] = [
  'keyOffset',
  'keyRushes',
  'manOutside',
  'roomInside',
  'downGroup',
];

/** An edit that leaves a board which can be read; most of them matter to some card. */
const step: fc.Arbitrary<Step> = fc.oneof(
  anyCard(someFacts).map(
    (one): Step =>
      (play) =>
        withCard(play, one),
  ),
  anyCard(someFacts).map(
    (one): Step =>
      (play) =>
        withCard(play, passer(one)),
  ),
  fc.constantFrom(h, q).map(
    (player): Step =>
      (play) => ({
        ...play,
        cards: play.cards.filter((one) => one.player !== player),
      }),
  ),
  fc.tuple(anyone, fc.integer({ min: -8, max: 8 })).map(
    ([player, by]): Step =>
      (play) => ({
        ...play,
        players: play.players.map((one) =>
          one.id === player ? { ...one, at: [one.at[0] + by / 2, one.at[1]] as Point } : one,
        ),
      }),
  ),
  fc.tuple(anyone, fc.integer({ min: 1, max: 14 })).map(
    ([player, up]): Step =>
      (play) => ({
        ...play,
        routes: {
          ...play.routes,
          [player]: {
            release: { side: 'free', hesitate: 0 },
            stem: [[0, up]],
            finish: [],
            shape: 'sharp',
            name: '',
          },
        },
      }),
  ),
  anyone.map(
    (player): Step =>
      (play) => ({
        ...play,
        routes: Object.fromEntries(
          Object.entries(play.routes).filter(([id]) => id !== player),
        ) as RuledPlay['routes'],
      }),
  ),
  fc.tuple(fc.constantFrom('in', 'out', 'sit'), fc.integer({ min: 1, max: 8 })).map(
    ([name, decideBy]): Step =>
      (play) => {
        const his = cardOf(play, h);
        return his
          ? withCard(play, {
              ...his,
              branches: his.branches.map((one) =>
                one.id === name ? branch(name, { decideBy }) : one,
              ),
            })
          : play;
      },
  ),
  fc.option(fc.constantFrom('in', 'out')).map(
    (name): Step =>
      (play) => {
        const his = cardOf(play, h);
        const whenInDoubt = name === null ? null : branchIdSchema.parse(name);
        return his ? withCard(play, { ...his, head: { ...his.head, whenInDoubt } }) : play;
      },
  ),
  fc.option(fc.constantFrom(...dropIdSchema.options)).map(
    (drop): Step =>
      ({ drop: _, ...play }) =>
        drop === null ? play : { ...play, drop },
  ),
  fc.option(fc.constantFrom(...protections)).map(
    (called): Step =>
      ({ protection: _, ...play }) =>
        called ? { ...play, protection: { id: called.id, toward: 'left' } } : play,
  ),
  fc.constantFrom('Harbour', 'Jetty').map(
    (name): Step =>
      (play) => ({ ...play, name }),
  ),
  fc.tuple(anyone, fc.integer({ min: -3, max: 3 })).map(
    ([player, by]): Step =>
      (play) => ({
        ...play,
        motions: { [player]: { path: [[by, 0]], atSnap: 'moving' } } as RuledPlay['motions'],
      }),
  ),
  fc
    .record({
      down: fc.integer({ min: 1, max: 4 }),
      toGain: fc.integer({ min: 1, max: 12 }),
      spot: fc.constantFrom('left' as const, 'middle' as const),
    })
    .map(
      (change): Step =>
        (play) => ({ ...play, situation: { ...play.situation, ...change } }),
    ),
  fc.constantFrom(5, 60).map(
    (toGoal): Step =>
      (play) => ({
        ...play,
        situation: { ...play.situation, toGoal },
      }),
  ),
);

/** Now and then another shelf: a look left out, or other men under a look's id. */
const otherShelf: fc.Arbitrary<readonly LookRecipe[] | null> = fc.option(
  fc.tuple(fc.nat(4), fc.boolean()).map(([i, isLeftOut]) =>
    shelf.flatMap((look, j) => {
      if (j !== i) return [look];
      const [{ id, name }, other] = [look, builtInLooks[i + 9]];
      return isLeftOut || !other ? [] : [{ ...other, id, name }];
    }),
  ),
  { freq: 3 },
);

describe('a re-check', () => {
  it('E1 says what a full check says after every edit of play or shelf, in its order', () => {
    let kept = 0;
    let told = 0;
    fc.assert(
      fc.property(
        fc.array(fc.tuple(step, otherShelf), { minLength: 4, maxLength: 12 }),
        (steps) => {
          const recheck = createRecheck(shelf);
          let play = doubles();
          let looks = shelf;
          for (const [take, other] of steps) {
            play = take(play);
            if (other) {
              looks = other;
              recheck.useShelf(copyOf(looks));
            }
            // Fresh objects, as they come from another thread.
            const found = recheck.check(copyOf(play));
            expect(found).toEqual(check(play, looks));
            const { ran, parts } = recheck.effort();
            kept += parts - ran.length;
            told += found.length;
          }
        },
      ),
      { numRuns: 40 },
    );
    expect(kept).toBeGreaterThan(400);
    expect(told).toBeGreaterThan(100);
  });

  it('E1 sees every field of a play, a called drop too', () => {
    const read = branch('in', {
      finish: { kind: 'in', angle: 90, run: 7 },
      breakAt: { from: 12, to: 12 },
    });
    const play = doubles([{ ...card([row('always', 'in')]), branches: [read] }]);
    const quick: RuledPlay = { ...play, drop: 'gun-catch-and-throw' };
    const late = (found: ReturnType<typeof check>) => found.filter(({ kind }) => kind === 'late');
    expect(late(check(quick, shelf))).toHaveLength(1);
    expect(late(createRecheck(shelf).check(quick))).toHaveLength(1);
    const recheck = createRecheck(shelf);
    expect(late(recheck.check(play))).toEqual([]);
    expect(late(recheck.check(quick))).toHaveLength(1);
  });

  it('E1 holds for whatever coaches do on a board', () => {
    fc.assert(
      fc.property(
        fullBoard(),
        fc.array(edit(), { minLength: 3, maxLength: 10 }),
        (board, edits) => {
          const { a } = twoCoaches(board);
          const recheck = createRecheck(shelf);
          for (const each of edits) {
            makeEdit(a, each);
            const { play } = a.snapshot().board;
            expect(recheck.check(play)).toEqual(check(play, shelf));
          }
        },
      ),
      { numRuns: 40 },
    );
  });

  it('E2 runs nothing again where nothing has changed, though it be another object', () => {
    const play = copyOf(doubles([card([row('a', 'in', is('keyRushes', true))])]));
    const recheck = createRecheck(shelf);
    recheck.check(play);
    expect(recheck.effort().ran.length).toBe(recheck.effort().parts);
    recheck.check(JSON.parse(JSON.stringify(play)));
    expect(recheck.effort().ran).toEqual([]);
  });

  it('E2 throws, reads and protects nothing again where no input of it has changed', () => {
    const play = copyOf(
      doubles([card([row('a', 'in', is('keyRushes', true))]), passer(card([row('b', 'in')]))]),
    );
    const ranAfter = (edit: Step): readonly string[] => {
      const recheck = createRecheck(shelf);
      recheck.check(play);
      recheck.check(copyOf(edit(play)));
      return recheck.effort().ran;
    };
    const words = ranAfter((one) => ({
      ...one,
      cards: one.cards.map((each) => ({
        ...each,
        rows: each.rows.map((each) => ({ ...each, says: 'as taught' })),
      })),
    }));
    expect(words.filter((part) => /^(clock|throw|late|undercut|reader|proof)/.test(part))).toEqual(
      [],
    );
    const called = ranAfter((one) => ({ ...one, protection: { id: 'five-full', toward: 'left' } }));
    expect(called.filter((part) => /^(clock|throw|late|undercut|reader|proof)/.test(part))).toEqual(
      [],
    );
    expect(called).not.toEqual([]);
    const [his] = play.cards;
    const deeper = ranAfter((one) =>
      his
        ? withCard(one, {
            ...his,
            branches: his.branches.map((each) =>
              each.id === 'in' ? branch('in', { breakAt: { from: 5, to: 9 } }) : each,
            ),
          })
        : one,
    );
    expect(deeper.filter((part) => part.startsWith('throw'))).toEqual([`throw ${h} in`]);
  });

  it('E2 aligns no look again for an edit of a card, and asks nothing of another card', () => {
    const his = card([row('a', 'in', is('keyRushes', true))]);
    const play = doubles([his, passer(his)]);
    const recheck = createRecheck(shelf);
    recheck.check(play);
    recheck.check({
      ...play,
      cards: [card([row('a', 'out', is('keyRushes', true))]), passer(his)],
    });
    const { ran } = recheck.effort();
    expect(ran.some((part) => part.startsWith(`card ${q}`) || part === `reader ${q}`)).toBe(false);
    expect(ran.some((part) => part.startsWith(`card ${h}`))).toBe(true);
  });

  it('E2 asks no card again for the name of a play or the route of a man whom nobody reads', () => {
    const play = doubles([card([row('a', 'in', is('keyRushes', true))])]);
    const recheck = createRecheck(shelf);
    recheck.check(play);
    recheck.check({ ...play, name: 'Jetty', concept: 'Crossing' });
    expect(recheck.effort().ran.filter((part) => part.startsWith('card'))).toEqual([]);
  });
});

describe('what is shared with the play before', () => {
  it('says what the play now says, and is the play before wherever that said the same', () => {
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 6 }), (steps) => {
        let before = copyOf(doubles());
        for (const take of steps) {
          const now = copyOf(take(before));
          const one = shared(before, now);
          expect(one).toEqual(now);
          expect(shared(before, copyOf(before))).toBe(before);
          for (const [i, player] of one.players.entries()) {
            const was = before.players.find(({ id }) => id === player.id);
            expect(player === was).toBe(same(now.players[i], was));
          }
          expect(one.situation === before.situation).toBe(same(now.situation, before.situation));
          before = one;
        }
      }),
    );
  });

  it('holds for any JSON', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.jsonValue(), (before, now) => {
        expect(shared(before, now)).toStrictEqual(now);
      }),
    );
  });
});

describe('sameness', () => {
  it('is that of the text, for any JSON', () => {
    fc.assert(
      fc.property(fc.clone(fc.jsonValue(), 2), fc.jsonValue(), ([a, twin], b) => {
        expect(same(a, twin)).toBe(true);
        const sorted = (value: unknown): unknown =>
          Array.isArray(value)
            ? value.map(sorted)
            : typeof value === 'object' && value !== null
              ? Object.fromEntries(
                  Object.entries(value)
                    .map(([key, item]) => [key, sorted(item)] as const)
                    .sort(([x], [y]) => (x < y ? -1 : 1)),
                )
              : Object.is(value, -0)
                ? 'minus zero'
                : value;
        expect(same(a, b)).toBe(JSON.stringify(sorted(a)) === JSON.stringify(sorted(b)));
      }),
    );
  });
});
