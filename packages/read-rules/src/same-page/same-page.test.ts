import type { PlayerId } from '@stemline/football/ids';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { type Branch, branchIdSchema, type CardHead, type ReadCard, type Row } from '../card.ts';
import { check } from '../check.ts';
import { evaluate } from '../evaluate.ts';
import type { Finding } from '../finding.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { anyCard, card, doubles, h, head, is, oneOf, q, range, row } from '../testing/cards.ts';
import { type SamePage, samePage } from './same-page.ts';
import { mostWays } from './ways.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

const shelf = builtInLooks.slice(0, 8);
const id = (name: string) => branchIdSchema.parse(name);
const named = (label: string): PlayerId => {
  const player = doubles().players.find((one) => one.label === label);
  if (!player) throw new Error(`doubles has no ${label}`);
  return player.id;
};
const z = named('Z');
const back = named('F');

const route: RuledPlay['routes'][PlayerId] = {
  release: { side: 'free', hesitate: 0 },
  stem: [[0, 7]],
  finish: [],
  shape: 'sharp',
  // He stops there: who runs straight on has no break that could be undercut.
  name: 'Sit',
};
const target = (name: string, player: PlayerId): Branch => ({
  id: id(name),
  name: name.toUpperCase(),
  kind: 'target',
  player,
});

/** The quarterback's card over the slot: to him when his key comes, else behind him. */
const passer = (
  rows: readonly Row[],
  change: Partial<CardHead> = {},
  branches: readonly Branch[] = [target('option', h), target('behind', z)],
): ReadCard => ({
  player: q,
  head: head({
    policy: 'first',
    whenInDoubt: id('option'),
    noKey: id('option'),
    ...change,
    key: { ...head().key, over: h, ...change.key },
  }),
  rows,
  branches,
});
const hot: readonly Row[] = [
  row('comes', 'option', is('keyRushes', true)),
  row('stays', 'behind', is('keyRushes', false)),
];
const receiver = (change: Partial<CardHead> = {}): ReadCard =>
  card([row('comes', 'in', is('keyRushes', true)), row('stays', 'out', is('keyRushes', false))], {
    whenInDoubt: id('out'),
    ...change,
  });
const play = (cards: readonly ReadCard[], drawn: readonly PlayerId[] = [h, z]): RuledPlay => ({
  ...doubles(cards),
  routes: Object.fromEntries(drawn.map((player) => [player, route])) as RuledPlay['routes'],
});
const offPage = (one: RuledPlay): Finding[] =>
  check(one, shelf).filter(({ kind }) => kind === 'offThePage');
const cellsOf = ({ looks }: SamePage) => looks.flatMap(({ cells }) => cells);

describe('the table', () => {
  const page = samePage(play([receiver(), passer(hot)]), shelf);

  it('O1 has a column for each reader, the passer first, and every look', () => {
    expect(page.readers.map(({ label }) => label)).toEqual(['Q', 'H']);
    expect(page.looks.map(({ look }) => look)).toEqual(shelf.map((look) => look.id));
  });

  it('O1 tries every reaction of the men read, the called ones first', () => {
    for (const [i, { varied, held, cells }] of page.looks.entries()) {
      const recipe = shelf[i];
      if (!recipe) throw new Error('a look too many');
      const look = alignLook(recipe, doubles());
      const ways = varied.map(
        ({ defender }) => look.defenders.find((man) => man.id === defender)?.reactions.length ?? 0,
      );
      expect(cells).toHaveLength(ways.reduce((all, some) => all * some, 1));
      expect(new Set(cells.map(({ reactions }) => JSON.stringify(reactions))).size).toBe(
        cells.length,
      );
      expect(cells.length).toBeLessThanOrEqual(mostWays);
      expect(cells.map(({ isCalled }) => isCalled).indexOf(true)).toBe(0);
      expect(held.every(({ defender }) => !varied.some((man) => man.defender === defender))).toBe(
        true,
      );
    }
  });

  it('O2 each cell says what evaluating its look says, and says it in a sentence', () => {
    fc.assert(
      fc.property(anyCard(), (his) => {
        const one = play([his, passer(hot)]);
        const table = samePage(one, shelf.slice(0, 3));
        for (const [i, { cells }] of table.looks.entries()) {
          const recipe = shelf[i];
          if (!recipe) throw new Error('a look too many');
          const look = alignLook(recipe, one);
          for (const cell of cells) {
            for (const [r, { player }] of table.readers.entries()) {
              const its = one.cards.find((each) => each.player === player);
              if (!its) throw new Error('a reader without a card');
              const full = evaluate(one, its, look, cell.reactions);
              expect(cell.readings[r]).toMatchObject({
                row: full.row,
                branch: full.branch?.name ?? null,
              });
            }
            expect(cell.says).toMatch(/^Q .*H .*\.$/);
          }
        }
      }),
      { numRuns: 25 },
    );
  });

  it('O2 tells two answers from none', () => {
    const torn = card([
      row('r1', 'in', is('keyRushes', true)),
      row('r2', 'out', is('keyRushes', true)),
    ]);
    const cells = samePage({ ...doubles(), cards: [torn] }, shelf).looks.flatMap(
      (one) => one.cells,
    );
    const {
      torn: names,
      says,
      rowName,
    } = cells
      .map((cell) => ({ says: cell.says, ...cell.readings[0] }))
      .find((one) => one.torn && one.torn.length > 0) ?? expect.unreachable('somebody rushes');
    expect(names).toEqual(['IN', 'OUT']);
    expect(rowName).toBe('rows 1 and 2');
    expect(says).toContain('has 2 answers, IN and OUT (rows 1 and 2)');
    const silent = cells.find(({ readings }) => readings[0]?.rowName === 'no answer');
    expect(silent?.readings[0]?.torn).toEqual([]);
    expect(silent?.says).toContain('has no answer');
  });

  it('O2 names whom the quarterback throws to', () => {
    const targets = new Set(cellsOf(page).map(({ target: to }) => to));
    expect([...targets].sort()).toEqual([h, z].sort());
  });

  it('O3 the findings are those of the table, no more and no fewer', () => {
    fc.assert(
      fc.property(anyCard(), anyCard(['keyMove', 'keyRushes', 'roomInside']), (his, hers) => {
        const one = play([
          his,
          {
            ...passer(
              hers.rows.map((each) => ({
                ...each,
                branch: each.branch === 'in' ? id('option') : id('behind'),
              })),
              { whenInDoubt: hers.head.whenInDoubt && id('option'), policy: hers.head.policy },
            ),
          },
        ]);
        const told = offPage(one).map((finding) => finding.id);
        const shown = new Set(
          cellsOf(samePage(one, shelf)).flatMap(({ off }) =>
            off.map(({ kind, player }) => `offThePage/${q}/${player}/${kind}`),
          ),
        );
        expect([...told].sort()).toEqual([...shown].sort());
      }),
      { numRuns: 40 },
    );
  });

  it('O9 gives the margin that an undercut finding is about', () => {
    const one = play([receiver(), passer(hot)]);
    const told = check(one, builtInLooks).filter(({ kind }) => kind === 'undercut');
    const table = samePage(one, builtInLooks);
    let met = 0;
    for (const { witness } of told) {
      const cell = table.looks
        .find(({ look }) => look === witness?.look.id)
        ?.cells.find(({ reactions, isCalled }) =>
          Object.keys(witness?.reactions ?? {}).length === 0
            ? isCalled
            : Object.entries(witness?.reactions ?? {}).every(
                ([man, does]) => Reflect.get(reactions, man) === does,
              ),
        );
      if (!cell) continue;
      expect(cell.margin?.seconds).toBeLessThan(0);
      expect(cell.says).toContain(`${cell.margin?.by.name} is under the ball`);
      met += 1;
    }
    expect(met).toBeGreaterThan(0);
    for (const { margin } of cellsOf(table)) expect(margin?.seconds ?? 0).toBeLessThanOrEqual(1);
  });

  it('leaves out a card that has no meaning, and says nothing of a drawing that has none', () => {
    const spoiled = passer([row('x', 'option', range('keyDepth', '[-3,99]'))]);
    expect(samePage(play([receiver(), spoiled]), shelf)).toMatchObject({ passer: null });
    const bad = play([receiver()]);
    const nowhere = { ...bad, players: bad.players.map((one) => ({ ...one, at: [NaN, 0] })) };
    expect(samePage(nowhere as unknown as RuledPlay, shelf).looks).toEqual([]);
  });
});

describe('off the page', () => {
  const deeper = { key: { ...head().key, over: h, levels: ['second' as const], maxDepth: 8 } };
  const edgeFirst = {
    key: { ...head().key, levels: ['line' as const, 'second' as const], reach: 12 },
  };

  it('O4 nothing where both read one man', () => {
    expect(offPage(play([receiver(), passer(hot)]))).toEqual([]);
  });

  it('O4 stop: the two read different men, and it changes where the ball goes', () => {
    const outside = { key: { ...head().key, over: h, direction: 'outside' as const } };
    const one = play([receiver(), passer(hot, outside)]);
    const found = offPage(one);
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ severity: 'stop', id: `offThePage/${q}/${h}/differentMen` });
    const witness = found[0]?.witness;
    if (!witness) throw new Error('no witness');
    const [his, hers] = one.cards.map((each) =>
      evaluate(one, each, witness.look, witness.reactions),
    );
    expect(his?.key).not.toEqual(hers?.key);
  });

  it('O5 nothing where different men lead to the same throw', () => {
    const same = [
      row('any', 'option', oneOf('keyMove', 'rush', 'drop', 'wall', 'widen', 'man', 'sit')),
    ];
    const outside = { key: { ...head().key, over: h, direction: 'outside' as const } };
    expect(offPage(play([receiver(), passer(same, outside)]))).toEqual([]);
  });

  it('O5 nothing where the quarterback reads men of another level, or over another man', () => {
    const safety = { key: { ...head().key, over: h, levels: ['deep' as const], maxDepth: 20 } };
    expect(offPage(play([receiver(edgeFirst), passer(hot, safety)]))).toEqual([]);
    expect(offPage(play([receiver(), passer(hot, { key: { ...deeper.key, over: z } })]))).toEqual(
      [],
    );
  });

  it('O6 stop: he throws to a man who has no route; none where one is drawn', () => {
    const found = offPage(play([passer(hot)], [h]));
    expect(found).toMatchObject([
      {
        severity: 'stop',
        id: `offThePage/${q}/${z}/noRoute`,
        elements: [{ kind: 'card' }, { kind: 'player', player: z }],
      },
    ]);
    expect(offPage(play([passer(hot)]))).toEqual([]);
  });

  it('O6 stop: he throws to a man whose card keeps him in; none once his man does not come', () => {
    const check: ReadCard = {
      player: back,
      head: head({
        whenInDoubt: id('stay'),
        noKey: id('release'),
        key: { ...head().key, levels: ['second'] },
      }),
      rows: [
        row('comes', 'stay', is('keyRushes', true)),
        row('drops', 'release', is('keyRushes', false)),
      ],
      branches: [
        { id: id('stay'), name: 'STAY', kind: 'block', what: 'Block him' },
        { id: id('release'), name: 'RELEASE', kind: 'block', what: 'Release to the flat' },
      ],
    };
    const toBack = [target('back', back), target('behind', z)];
    const over = { key: { ...check.head.key, over: back } };
    const always = passer(
      [row('any', 'back')],
      { ...over, whenInDoubt: id('back'), noKey: id('behind') },
      toBack,
    );
    const drawn = [z, back];
    expect(offPage(play([check, always], drawn))).toMatchObject([
      { severity: 'stop', id: `offThePage/${q}/${back}/staysIn` },
    ]);
    const checkdown = passer(
      [row('comes', 'behind', is('keyRushes', true)), row('drops', 'back', is('keyRushes', false))],
      { ...over, whenInDoubt: id('behind'), noKey: id('back') },
      toBack,
    );
    expect(offPage(play([check, checkdown], drawn))).toEqual([]);
  });

  it('O7 warn: the card of the man he throws to is silent, or his own', () => {
    const silent = card([row('comes', 'in', is('keyRushes', true))]);
    const to = passer([row('any', 'option')]);
    expect(offPage(play([silent, to]))).toMatchObject([
      { severity: 'warn', id: `offThePage/${q}/${h}/nobodyAnswers` },
    ]);
    const own = passer([row('comes', 'option', is('keyRushes', true))], { whenInDoubt: null });
    expect(offPage(play([receiver(), own]))).toMatchObject([
      { severity: 'warn', id: `offThePage/${q}/${q}/nobodyAnswers`, elements: [{ player: q }] },
    ]);
  });

  it('O8 one finding for a pair and kind, with the looks counted and the worst shown', () => {
    const [found] = offPage(
      play([passer([row('any', 'behind')], { whenInDoubt: id('behind') })], [h]),
    );
    expect(found?.says).toMatch(
      /^Against ".*" Q throws to Z, who has no route\. So it is in every look\.$/,
    );
    expect(found?.witness?.look.name).toBe(shelf[0]?.name);
  });
});
