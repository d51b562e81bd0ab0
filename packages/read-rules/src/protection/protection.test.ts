import { playersOf } from '@stemline/football/formation';
import { playerIdSchema } from '@stemline/football/ids';
import type { Route } from '@stemline/football/play';
import { protections } from '@stemline/football/protection';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import { ruledPlay } from '@stemline/testkit/plays';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { type Branch, branchIdSchema, type ReadCard, rowIdSchema } from '../card.ts';
import { check } from '../check.ts';
import { type Finding, findingSchema } from '../finding.ts';
import { onPlay } from '../findings/on-play.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { anyCard, branch, card, h, head, is, q, row, situation } from '../testing/cards.ts';
import { protectionCards } from './cards.ts';
import { protection } from './findings.ts';
import { protectingOf } from './protect.ts';

vi.setConfig({ testTimeout: 60_000 });

type Steps = readonly (readonly [number, number])[];
const run = (stem: Steps, finish: Steps = [], hesitate = 0): Route => ({
  release: { side: 'free', hesitate },
  stem: [...stem],
  finish: [...finish],
  shape: 'sharp',
  name: '',
});
const id = (name: string) => playerIdSchema.parse(name);

/** Doubles with nobody who breaks sooner than at 13 yards. */
const deep: Readonly<Record<string, Route>> = {
  x: run([[0, 14]], [[6, 26]]),
  a: run([[0, 15]], [[7, 15]]),
  h: run([[0, 15]], [[-7, 15]]),
  z: run([[0, 16]], [[-6, 28]]),
};
const swing = run([[-4, -0.5]], [[-9, 1.5]]);
const longSwing = run([[-4, -0.5]], [[-9, 1.5]], 3);

const play = (
  routes: Readonly<Record<string, Route>>,
  more: Partial<RuledPlay> = {},
  formation = 'doubles',
): RuledPlay => ({
  name: 'Harbour',
  concept: '',
  situation,
  players: playersOf(formation, { strength: 'right', situation }),
  routes: routes as RuledPlay['routes'],
  motions: {},
  cards: [],
  ...more,
});
const found = (one: RuledPlay, looks = builtInLooks): readonly Finding[] =>
  protection(
    onPlay(
      one,
      looks.map((recipe) => alignLook(recipe, one)),
    ),
  );
const kinds = (one: RuledPlay): string[] => found(one).map(({ kind }) => kind);
const freeBefore = (one: RuledPlay, look: string) => {
  const recipe = builtInLooks.find((each) => each.id === look);
  if (!recipe) throw new Error(`no look ${look}`);
  const seen = protectingOf(one)?.before(alignLook(recipe, one), {});
  if (!seen) throw new Error('nothing is protected');
  return seen;
};

const target = (name: string, player: string): Branch => ({
  id: branchIdSchema.parse(name),
  kind: 'target',
  name: name.toUpperCase(),
  player: id(player),
});
const throwing = (rows: ReadCard['rows'], branches: readonly Branch[]): ReadCard => ({
  player: q,
  head: head({
    key: { ...head().key, over: h },
    whenInDoubt: branches[0]?.id ?? null,
    noKey: branches[0]?.id ?? null,
  }),
  rows,
  branches,
});

describe('noHot', () => {
  it('B3 six come, five block and everybody runs deep: one finding, with its looks counted', () => {
    const all = found(play({ ...deep, f: run([[-2, 6]], [[-8, 20]]) }));
    expect(all).toHaveLength(1);
    const [one] = all;
    expect(one).toMatchObject({ kind: 'noHot', severity: 'warn' });
    expect(one?.says).toContain('6 come and 5 block');
    expect(one?.says).toContain('3 of the 28 looks');
    const seen = freeBefore(
      play({ ...deep, f: run([[-2, 6]], [[-8, 20]]) }),
      one?.witness?.look.id ?? '',
    );
    expect(seen.first?.arrives).toBeLessThan((seen.outlets[0]?.ready ?? 99) - 0.1);
  });

  it.each([
    ['the back swings', { f: swing }],
    ['the slot breaks at five yards', { a: run([[0, 6.5]], [[6, 6.5]]) }],
    ['the slot runs a seam', { a: run([[0, 22]]) }],
  ])('B3 none where %s', (_, hot) => {
    expect(kinds(play({ ...deep, f: run([[-2, 6]], [[-8, 20]]), ...hot }))).toEqual([]);
  });

  it('B3 none where the back stays in or checks: six block six', () => {
    expect(kinds(play(deep))).toEqual([]);
    expect(kinds(play({ ...deep, f: longSwing }))).toEqual([]);
  });

  it('B3 the widest man running deep is no hot answer', () => {
    const go = run([[0, 25]]);
    const routes = { ...deep, x: go, z: go, f: run([[-2, 6]], [[-8, 20]]) };
    expect(kinds(play(routes))).toEqual(['noHot']);
  });
});

describe('a key who comes though he is not called to', () => {
  /** Five come, and five have them; a sixth is free. */
  const five = builtInLooks.filter((recipe) => {
    const { first, pickUp } = freeBefore(play({ ...deep, f: swing }), recipe.id);
    return !first && pickUp.rushers === 5;
  });
  const routes = { ...deep, f: swing, z: run([[0, 22]], [[-3, 18]]) };
  const slow = throwing([row('deep', 'deep')], [target('deep', 'z')]);
  const hot = throwing(
    [row('comes', 'back', is('keyRushes', true)), row('stays', 'deep', is('keyRushes', false))],
    [target('deep', 'z'), target('back', 'f')],
  );

  it('B4 is a warning where the passer’s card sees him and throws deep, with his reaction as witness', () => {
    expect(five.length).toBeGreaterThan(3);
    const [one, ...more] = found(play(routes, { cards: [slow] }), five);
    expect(more).toEqual([]);
    expect(one).toMatchObject({ kind: 'unblocked', severity: 'warn' });
    expect(one?.says).toMatch(/^Against ".*", if \w+ comes, /);
    expect(Object.values(one?.witness?.reactions ?? {})).toHaveLength(1);
  });

  it('B4 none where the card throws to the back then', () => {
    expect(found(play(routes, { cards: [hot] }), five)).toEqual([]);
  });

  it('B3 a note where nobody could be quick enough', () => {
    const runs = { ...deep, f: run([[-2, 6]], [[-8, 20]]) };
    const told = found(play(runs, { cards: [hot] }), five);
    expect(told.every(({ severity }) => severity === 'note')).toBe(true);
  });
});

describe('unblocked', () => {
  it('B4 a card that throws deep while a quick man is open', () => {
    const slow = throwing([row('deep', 'deep')], [target('deep', 'z')]);
    const [one, ...others] = found(play({ ...deep, f: swing }, { cards: [slow] }));
    expect(others).toEqual([]);
    expect(one).toMatchObject({
      kind: 'unblocked',
      severity: 'warn',
      elements: [{ kind: 'card', player: q }],
    });
    expect(one?.says).toContain('throws to Z');
    expect(one?.mend).toContain('throws to F');
  });

  it('B4 none once the card throws hot when so many come', () => {
    const hot = throwing(
      [
        {
          id: rowIdSchema.parse('hot'),
          conditions: [{ kind: 'range', fact: 'rushers', from: { at: 6, closed: true }, to: null }],
          branch: branchIdSchema.parse('hot'),
          says: '',
        },
        row('deep', 'deep'),
      ],
      [target('deep', 'z'), target('hot', 'f')],
    );
    expect(kinds(play({ ...deep, f: swing }, { cards: [hot] }))).toEqual([]);
  });

  it('B5 a slide that leaves a man off the other edge, and not where nothing is called', () => {
    const routes = { ...deep, f: run([[-2, 6]], [[-8, 20]]) };
    const away = play(routes, { protection: { id: 'five-full', toward: 'left' } });
    const seen = freeBefore(away, 'over-fire-strong');
    expect(seen.pickUp.free.map(({ label }) => label)).toEqual(['NB']);
    expect(found(away).find(({ kind }) => kind === 'unblocked')?.says).toContain('nobody has');
    expect(freeBefore(play(routes), 'over-fire-strong').pickUp.free).toEqual([]);
    expect(kinds(play(routes))).toEqual(['noHot']);
  });

  it.each(protections)('B5 $name: blocks four', ({ id: called, slide, helpers }) => {
    const free = (look: string, toward: 'left' | 'right') =>
      freeBefore(play(deep, { protection: { id: called, toward } }), look).pickUp.free.map(
        ({ label }) => label,
      );
    for (const toward of ['left', 'right'] as const) {
      for (const look of ['over-two', 'under-three']) expect(free(look, toward), look).toEqual([]);
      for (const look of ['odd-two', 'tite-quarters']) {
        // Both the end and the backer off the weak edge are left of a line that all slides right.
        const leaves = slide === 'full' && toward === 'right' && helpers.length === 0;
        expect(free(look, toward), `${look} ${toward}`).toEqual(leaves ? ['J'] : []);
      }
    }
  });
});

describe('hotKeys', () => {
  const hotWay = branch('hot', { finish: { kind: 'in', angle: 80, run: 6 } });
  const other = branch('stay');
  const slotCard = (over: Partial<ReadCard['head']['key']>): ReadCard => ({
    ...card(
      [row('hot', 'hot', is('keyRushes', true)), row('not', 'stay', is('keyRushes', false))],
      { key: { ...head().key, ...over }, noKey: branchIdSchema.parse('stay') },
    ),
    branches: [hotWay, other],
  });
  const hotCard = (key: Partial<ReadCard['head']['key']>): ReadCard => {
    const base = throwing(
      [row('hot', 'slot', is('keyRushes', true)), row('not', 'deep', is('keyRushes', false))],
      [target('deep', 'z'), target('slot', 'h')],
    );
    return { ...base, head: { ...base.head, key: { ...base.head.key, ...key } } };
  };

  it('B6 the passer reads the end and the slot reads the man over him', () => {
    const cards = [
      hotCard({ levels: ['line'], over: id('rt'), direction: 'outside', headUp: 1 }),
      slotCard({}),
    ];
    const [one] = found(play({ ...deep, h: run([[0, 7]]), f: swing }, { cards })).filter(
      ({ kind }) => kind === 'hotKeys',
    );
    expect(one).toMatchObject({ severity: 'warn', elements: [{ player: q }, { player: h }] });
    expect(one?.says).toContain('throws hot to H');
  });

  it('B6 none where both read the same man', () => {
    const cards = [hotCard({}), slotCard({})];
    expect(kinds(play({ ...deep, h: run([[0, 7]]), f: swing }, { cards }))).not.toContain(
      'hotKeys',
    );
  });
});

describe('protection', () => {
  it('B1 says nothing of a play that does not throw, or of no five linemen', () => {
    expect(protectingOf(play({}))).toBeNull();
    const four = play(deep);
    expect(
      protectingOf({ ...four, players: four.players.filter((one) => one.id !== id('lg')) }),
    ).toBeNull();
    expect(protectingOf({ ...four, players: [] })).toBeNull();
  });

  it('B2 each rusher has one blocker or is free, each blocker one rusher, and one more in never frees anybody', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('doubles', 'doubles-tight-end', 'trips', 'two-backs', 'two-tight-ends'),
        fc.constantFrom(...builtInLooks),
        fc.subarray(['x', 'z', 'f', 'b', 'y', 'u', 'h', 'a'], { minLength: 2 }),
        (formation, recipe, out) => {
          const routes = Object.fromEntries(out.map((name) => [name, swing]));
          const drawn = play(routes, {}, formation);
          const look = alignLook(recipe, drawn);
          const seen = protectingOf(drawn)?.before(look, {});
          if (!seen) return;
          const { blocks, free, rushers } = seen.pickUp;
          expect(blocks.length + free.length).toBe(rushers);
          expect(new Set(blocks.map(({ blocker }) => blocker.id)).size).toBe(blocks.length);
          expect(new Set(blocks.map(({ rusher }) => rusher.id)).size).toBe(blocks.length);
          const kept = Object.fromEntries(Object.entries(routes).filter(([name]) => name !== 'f'));
          const more = protectingOf(play(kept, {}, formation))?.before(look, {});
          if (more) expect(more.pickUp.free.length).toBeLessThanOrEqual(free.length);
        },
      ),
    );
  });

  it('F2 never throws, and all its numbers are numbers', () => {
    let told = 0;
    const anyRoute = fc
      .tuple(
        fc.array(fc.tuple(fc.integer({ min: -9, max: 9 }), fc.integer({ min: -2, max: 18 })), {
          minLength: 1,
          maxLength: 2,
        }),
        fc.array(fc.tuple(fc.integer({ min: -9, max: 9 }), fc.integer({ min: -2, max: 25 })), {
          maxLength: 1,
        }),
        fc.constantFrom(0, 0.2, 1),
      )
      .map(([stem, finish, hesitate]) => run(stem, finish, hesitate));
    const drawnPlay = fc
      .record({
        formation: fc.constantFrom('doubles', 'trips', 'two-backs', 'empty', 'unbalanced'),
        routes: fc.dictionary(fc.constantFrom('x', 'a', 'h', 'z', 'y', 'f', 'b'), anyRoute, {
          minKeys: 2,
        }),
        cards: fc.array(anyCard(), { maxLength: 1 }),
        called: fc.option(fc.constantFrom(...protections.map((one) => one.id))),
        toward: fc.constantFrom('left' as const, 'right' as const),
      })
      .map(({ formation, routes, cards, called, toward }) =>
        play(
          routes,
          { cards, ...(called ? { protection: { id: called, toward } } : {}) },
          formation,
        ),
      );
    fc.assert(
      fc.property(fc.oneof(ruledPlay(), drawnPlay, drawnPlay), (drawn) => {
        for (const finding of found(drawn)) {
          told++;
          findingSchema.parse(finding);
          expect(JSON.stringify(finding)).not.toMatch(/NaN|Infinity|undefined/);
        }
        for (const recipe of builtInLooks) {
          const first = protectingOf(drawn)?.before(alignLook(recipe, drawn), {}).first;
          if (first) expect(Number.isFinite(first.arrives)).toBe(true);
        }
      }),
      { numRuns: 150 },
    );
    expect(told).toBeGreaterThan(20);
  });
});

describe('protections as read cards', () => {
  it.each(protections)('B7 $name: cards against which the check has nothing', ({ id: called }) => {
    for (const toward of ['left', 'right'] as const)
      for (const formation of ['doubles', 'doubles-tight-end', 'two-backs']) {
        const bare = play({ x: deep.x as Route, z: deep.z as Route }, {}, formation);
        const cards = protectionCards(bare, { id: called, toward });
        const told = check({ ...bare, cards }, builtInLooks).filter(
          ({ elements, severity }) =>
            severity !== 'note' &&
            elements.some((one) => 'player' in one && cards.some((c) => c.player === one.player)),
        );
        expect(told.map(({ says }) => says)).toEqual([]);
      }
  });

  it('B7 a back with one checks his man, and goes when he does not come', () => {
    const bare = play({ ...deep, f: swing });
    const cards = protectionCards(bare, { id: 'six-half', toward: 'right' });
    expect(cards.map(({ player }) => player)).toEqual([id('c'), id('f')]);
    const seen = freeBefore({ ...bare, cards }, 'over-two');
    expect(seen.pickUp.blocks.some(({ blocker }) => blocker.id === id('f'))).toBe(false);
  });
});
