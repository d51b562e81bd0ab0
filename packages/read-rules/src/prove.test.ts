import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ReadCard } from './card.ts';
import { meets, rowsThatFit } from './evaluate.ts';
import type { FactName } from './fact-name.ts';
import { factSpace } from './fact-space.ts';
import type { Facts, FactValue } from './facts/declaration.ts';
import { impossible } from './facts/world.ts';
import { prove } from './prove.ts';
import { cellValues, holds, type Region, regionText } from './space/region.ts';
import { tableOf } from './space/table.ts';
import { anyCard, card, doubles, head, is, oneOf, range, row } from './testing/cards.ts';
import { withinReach } from './within-reach.ts';

const play = doubles();
const proof = (read: ReadCard) => prove(play, read);
const gapsOf = (read: ReadCard): string[] => proof(read).gaps.map(regionText);

/** Every cell of a card's space as facts, those that the world rules out or no key can reach left out. */
function everyPossibleCell(read: ReadCard): Partial<Facts>[] {
  const space = factSpace(play, read);
  const table = tableOf(space.axes, [...space.rows, ...space.barred]);
  const { setting } = space;
  if (!setting) throw new Error('the scan starts over nobody');
  const can = withinReach(setting, table, space.domainOf);
  const cells = table.columns.reduce<
    { known: { [name in FactName]?: FactValue }; box: number[] }[]
  >(
    (all, column) =>
      all.flatMap(({ known, box }) =>
        cellValues(column).map((value, i) => ({
          known: { ...known, [column.name]: value },
          box: [...box, ...(column.kind === 'set' ? [1 << i, 0] : [i, i])],
        })),
      ),
    [{ known: {}, box: [] }],
  );
  return cells
    .filter(({ box }) => can.tell(Int32Array.from(box)) !== 'none')
    .map(({ known }) => known)
    .filter(
      (cell) => !impossible.some(({ together }) => together.every((one) => meets(one, cell))),
    );
}

const isIn = (region: Region, cell: Partial<Facts>): boolean =>
  region.every((side) => holds(side, cell[side.name as FactName]));

describe('a proof against brute force over every cell', () => {
  it('P1 P3 G3 G4 gaps are exactly the possible cells that no row fits, each told once', () => {
    let uncovered = 0;
    fc.assert(
      fc.property(anyCard(), (read) => {
        const { gaps } = proof(read);
        for (const cell of everyPossibleCell(read)) {
          const isGap = rowsThatFit(read, cell).length === 0;
          expect(gaps.filter((region) => isIn(region, cell)).length).toBe(isGap ? 1 : 0);
          if (isGap) uncovered++;
        }
      }),
      { numRuns: 300 },
    );
    expect(uncovered).toBeGreaterThan(100);
  });

  it('C1 C2 C3 overlaps lie where all their rows fit, and every cell where rows disagree lies in one', () => {
    let clashes = 0;
    fc.assert(
      fc.property(anyCard(), (one) => {
        const read = { ...one, head: { ...one.head, policy: 'unique' as const } };
        const { overlaps } = proof(read);
        for (const cell of everyPossibleCell(read)) {
          const fits = rowsThatFit(read, cell);
          for (const { rows, regions } of overlaps) {
            const all = rows.every((id) => fits.some((fit) => fit.id === id));
            expect(regions.some((region) => isIn(region, cell))).toBe(all);
          }
          if (new Set(fits.map(({ branch }) => branch)).size < 2) continue;
          clashes++;
          const told = overlaps.filter(
            ({ agree, regions }) => !agree && regions.some((region) => isIn(region, cell)),
          );
          expect(told.length).toBeGreaterThan(0);
        }
      }),
      { numRuns: 300 },
    );
    expect(clashes).toBeGreaterThan(100);
  });

  it('N1 N3 under first, a row is told exactly when it answers in no possible cell', () => {
    fc.assert(
      fc.property(anyCard(), (one) => {
        const read = { ...one, head: { ...one.head, policy: 'first' as const } };
        const answering = new Set(
          everyPossibleCell(read).map((cell) => rowsThatFit(read, cell)[0]?.id),
        );
        const told = proof(read).neverUsed.map(({ row: id }) => id);
        expect(told).toEqual(read.rows.map(({ id }) => id).filter((id) => !answering.has(id)));
      }),
      { numRuns: 300 },
    );
  });

  it('N2 N3 under unique, without the rows told the others fit in just as many cells, and each is needed', () => {
    fc.assert(
      fc.property(anyCard(), (one) => {
        const read = { ...one, head: { ...one.head, policy: 'unique' as const } };
        const told = new Set(proof(read).neverUsed.map(({ row: id }) => id));
        const kept = read.rows.filter(({ id }) => !told.has(id));
        const cells = everyPossibleCell(read);
        const covers = (rows: typeof kept) =>
          cells.filter((cell) => rowsThatFit({ ...read, rows }, cell).length > 0).length;
        expect(covers(kept)).toBe(covers([...read.rows]));
        for (const { id } of kept)
          expect(covers(kept.filter((other) => other.id !== id))).toBeLessThan(covers(kept));
      }),
      { numRuns: 200 },
    );
  });
});

describe('the space', () => {
  it('G3 leaves a single open point as a gap', () => {
    const open = card([
      row('a', 'in', range('keyOffset', ',2)')),
      row('b', 'out', range('keyOffset', '(2,')),
    ]);
    expect(gapsOf(open)).toEqual(['keyOffset:[2,2]']);
    const closed = card([
      row('a', 'in', range('keyOffset', ',2)')),
      row('b', 'out', range('keyOffset', '[2,')),
    ]);
    expect(gapsOf(closed)).toEqual([]);
  });

  it('P2 reaches only as far as the scan looks', () => {
    const read = card([row('a', 'in', range('keyOffset', '[0,'))]);
    expect(gapsOf(read)).toEqual(['keyOffset:[-0.5,0)']);
    const outside = { ...read, head: head({ key: { ...head().key, direction: 'outside' } }) };
    expect(gapsOf(outside)).toEqual(['keyOffset:[-8,0)']);
  });

  it('P2 holds what the play settles at its one value', () => {
    const read = card([row('two', 'in', range('receiversThisSide', '[2,2]'))]);
    expect(proof(read).gaps).toEqual([]);
    const trips = card([row('three', 'in', range('receiversThisSide', '[3,3]'))]);
    expect(proof(trips).neverUsed).toMatchObject([{ row: 'three', because: 'notOnThisPlay' }]);
    expect(gapsOf(trips)).toEqual(['receiversThisSide:[2,2]']);
  });

  it('P3 finds nothing where a rushing key would have to do something else', () => {
    const read = card([
      row('rush', 'in', is('keyRushes', true)),
      row('stay', 'out', oneOf('keyMove', 'drop', 'wall', 'widen', 'man', 'sit')),
    ]);
    expect(proof(read)).toMatchObject({ gaps: [], overlaps: [], neverUsed: [] });
  });

  it('P3 holds the world itself free of entries that a third fact would tie together unsaid', () => {
    // Any two entries about a shared fact must leave every pair of the other facts either free or barred.
    const every = card([
      row('all', 'in', is('keyRushes', true), oneOf('keyMove', 'rush'), range('rushers', '[0,11]')),
    ]);
    const cells = everyPossibleCell(every);
    const pairs = (a: FactName, b: FactName) =>
      new Set(cells.map((cell) => `${cell[a]} ${cell[b]}`));
    expect(pairs('keyMove', 'rushers').has('rush 0')).toBe(false);
    for (const [a, b] of [
      ['keyMove', 'rushers'],
      ['keyRushes', 'rushers'],
      ['keyRushes', 'keyMove'],
    ] as const) {
      const two = card([
        row(
          'two',
          'in',
          ...(every.rows[0]?.conditions.filter(({ fact }) => fact === a || fact === b) ?? []),
        ),
      ]);
      expect(new Set(everyPossibleCell(two).map((cell) => `${cell[a]} ${cell[b]}`))).toEqual(
        pairs(a, b),
      );
    }
  });

  it('P4 has one form whatever the order of the rows', () => {
    fc.assert(
      fc.property(anyCard(), (read) => {
        expect(gapsOf({ ...read, rows: [...read.rows].reverse() })).toEqual(gapsOf(read));
      }),
      { numRuns: 200 },
    );
  });

  it('P5 gives up on a card that is too tangled, and says so', () => {
    const bits: readonly FactName[] = [
      'keyOffset',
      'keyDepth',
      'cushion',
      'roomInside',
      'roomOutside',
    ];
    const rows = Array.from({ length: 400 }, (_, i) =>
      row(
        `r${i}`,
        'in',
        ...bits.map((fact, b) => range(fact, `[${(i * (b + 3)) % 5},${((i * (b + 7)) % 5) + 2}]`)),
      ),
    );
    const read = card([...rows.slice(0, 2)]);
    expect(prove(play, read).complete).toBe(true);
    expect(prove(play, card(rows), 200).complete).toBe(false);
  });

  it('P5 C1 still tells clashes of a card that is too tangled, each a true one', () => {
    const rows = Array.from({ length: 40 }, (_, i) =>
      row(
        `r${i}`,
        i % 2 === 0 ? 'in' : 'out',
        range('keyOffset', `[${i % 5},${(i % 5) + 2}]`),
        range('keyDepth', `[${i % 3},${(i % 3) + 2}]`),
      ),
    );
    const { complete, overlaps } = prove(play, card(rows), 60);
    expect(complete).toBe(false);
    expect(overlaps.length).toBeGreaterThan(20);
    for (const { rows: pair, agree, regions } of overlaps) {
      expect([pair.length, agree]).toEqual([2, false]);
      const [side] = regions;
      const inside = Object.fromEntries(
        (side ?? []).map((one) => [
          one.name,
          one.kind === 'interval' ? (one.from.at + one.to.at) / 2 : one.values[0],
        ]),
      );
      const fits = rowsThatFit(card(rows), inside).map(({ id }) => id);
      for (const id of pair) expect(fits).toContain(id);
    }
  });

  it('N1 names the earlier rows that hide one', () => {
    const read = card(
      [
        row('low', 'in', range('keyDepth', ',5]')),
        row('other', 'sit', is('manOutside', true), range('keyDepth', '[5,6]')),
        row('high', 'out', range('keyDepth', '(5,')),
        row('hidden', 'sit', range('keyDepth', '[3,6]'), is('keyRushes', true)),
      ],
      { policy: 'first' },
    );
    expect(proof(read).neverUsed).toEqual([
      { row: 'hidden', because: 'covered', by: ['low', 'high'] },
    ]);
  });

  it('N2 tells the last of two rows that are the same', () => {
    const twice = card([
      row('one', 'in', is('keyRushes', true)),
      row('two', 'in', is('keyRushes', true)),
    ]);
    expect(proof(twice).neverUsed).toEqual([{ row: 'two', because: 'covered', by: ['one'] }]);
  });
});
