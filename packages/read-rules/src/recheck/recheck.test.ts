import { dropIdSchema } from '@stemline/football/footwork/drop';
import type { Point } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import { protections } from '@stemline/football/protection';
import { builtInLooks } from '@stemline/football/shelf';
import { edit, makeEdit } from '@stemline/testkit/edits';
import { fullBoard } from '@stemline/testkit/plays';
import { twoCoaches } from '@stemline/testkit/two-coaches';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { branchIdSchema, type ReadCard } from '../card.ts';
import { check } from '../check.ts';
import type { FactName } from '../fact-name.ts';
import { afresh } from '../keep.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { anyCard, branch, card, doubles, h, head, is, q, row } from '../testing/cards.ts';
import { createRecheck } from './recheck.ts';
import { Reads, recording } from './record.ts';
import { same } from './same.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

const shelf = builtInLooks.slice(0, 5);
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

type Step = (play: RuledPlay) => RuledPlay;
const withCard = (play: RuledPlay, one: ReadCard): RuledPlay => ({
  ...play,
  cards: [...play.cards.filter(({ player }) => player !== one.player), one],
});
const cardOf = (play: RuledPlay, player: PlayerId): ReadCard | undefined =>
  play.cards.find((one) => one.player === player);
const anyone = fc.constantFrom(...ids);
const someFacts: readonly FactName[] = ['keyOffset', 'keyRushes', 'manOutside', 'roomInside'];

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
  fc.constantFrom(5, 60).map(
    (toGoal): Step =>
      (play) => ({
        ...play,
        situation: { ...play.situation, toGoal },
      }),
  ),
);

describe('a re-check', () => {
  it('E1 says what a full check says after every edit, in its order', () => {
    let kept = 0;
    let told = 0;
    fc.assert(
      fc.property(fc.array(step, { minLength: 4, maxLength: 12 }), (steps) => {
        const recheck = createRecheck(shelf);
        let play = doubles();
        for (const take of steps) {
          play = take(play);
          const found = recheck.check(play);
          expect(found).toEqual(check(play, shelf));
          const { ran, parts } = recheck.effort();
          kept += parts - ran.length;
          told += found.length;
        }
      }),
      { numRuns: 40 },
    );
    expect(kept).toBeGreaterThan(1000);
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
    const play = doubles([card([row('a', 'in', is('keyRushes', true))])]);
    const recheck = createRecheck(shelf);
    recheck.check(play);
    expect(recheck.effort().ran.length).toBe(recheck.effort().parts);
    recheck.check(JSON.parse(JSON.stringify(play)));
    expect(recheck.effort().ran).toEqual([]);
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
    expect(ran.some((part) => part.startsWith('look') || part.startsWith(`card ${q}`))).toBe(false);
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

describe('a dependency record', () => {
  const play = doubles([card([row('a', 'in')])]);

  it('has every field, route and motion that was looked at, and no other', () => {
    const reads = new Reads();
    const on = recording({ play }, reads);
    afresh('test', on, ({ play: { players, routes } }) => [players.length, routes[h]]);
    expect(reads.names).toEqual(['players', `route ${h}`]);
    expect(reads.stillHold({ play: { ...play, name: 'Jetty' } })).toBe(true);
    expect(reads.stillHold({ play: { ...play, players: play.players.slice(1) } })).toBe(false);
  });

  it('has all routes where they were gone through', () => {
    const reads = new Reads();
    Object.keys(recording({ play }, reads).play.routes);
    expect(reads.names).toContain('routes');
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
