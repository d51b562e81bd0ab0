import { formations, playersOf } from '@stemline/football/formation';
import type { ReactionChoice } from '@stemline/football/look';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import { situation } from '@stemline/testkit/plays';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluate } from './evaluate.ts';
import type { FactName } from './fact-name.ts';
import { factSpace } from './fact-space.ts';
import { prove } from './prove.ts';
import { regionText } from './space/region.ts';
import { tableOf } from './space/table.ts';
import { card, doubles, head, is, oneOf, range, row } from './testing/cards.ts';
import { withinReach } from './within-reach.ts';

const names = [
  'keyOffset',
  'keyDepth',
  'keyMove',
  'keyRushes',
  'cushion',
  'roomInside',
  'roomOutside',
  'rushers',
  'manOutside',
  'mikeLean',
] as const satisfies readonly FactName[];

const gapsOf = (...rows: ReturnType<typeof row>[]): string[] =>
  prove(doubles(), card(rows)).gaps.map(regionText);

describe('what one man can show', () => {
  it('P6 rules out nothing that a look of the shelf shows, whatever its men do', () => {
    const seen = fc.record({
      formation: fc.constantFrom(...formations),
      recipe: fc.constantFrom(...builtInLooks),
      where: situation(),
      picks: fc.array(fc.nat({ max: 9 }), { minLength: 11, maxLength: 11 }),
      direction: fc.constantFrom('inside' as const, 'outside' as const),
      levels: fc.constantFrom(
        ['line', 'second', 'corner'] as const,
        ['second'] as const,
        ['second', 'corner', 'deep'] as const,
      ),
      reader: fc.nat({ max: 10 }),
      asked: fc.subarray([...names], { minLength: 1 }),
    });
    let met = 0;
    fc.assert(
      fc.property(seen, ({ formation, recipe, where, picks, direction, levels, reader, asked }) => {
        const players = playersOf(formation.id, { strength: 'right', situation: where });
        const play = { ...doubles(), situation: where, players };
        const look = alignLook(recipe, play);
        const reactions = Object.fromEntries(
          look.defenders.map(({ id, reactions: all }, i) => [
            id,
            all[(picks[i] ?? 0) % all.length]?.id,
          ]),
        ) as ReactionChoice;
        const player = players[reader % players.length]?.id ?? card([]).player;
        const key = { ...head().key, direction, levels: [...levels] };
        const blank = { ...card([]), player, head: head({ key }) };
        const { facts: known, key: found } = evaluate(play, blank, look, reactions);
        if (found.kind !== 'one') return;
        met++;
        // A card whose one row asks for exactly what was seen.
        const read = {
          ...blank,
          rows: [
            row(
              'seen',
              'in',
              ...asked.map((name) => {
                const value = known[name];
                if (typeof value === 'boolean') return is(name, value);
                if (typeof value === 'string') return oneOf(name, value);
                return range(name, `[${value},${value}]`);
              }),
            ),
          ],
        };
        const space = factSpace(play, read);
        const table = tableOf(space.axes, space.rows);
        const box = table.rows[0];
        if (!space.setting || !box) throw new Error('the row that was seen has no place');
        const can = withinReach(space.setting, table, space.domainOf);
        expect(can.tell(box)).not.toBe('none');
        expect(prove(play, read).neverUsed).toEqual([]);
      }),
      { numRuns: 400 },
    );
    expect(met).toBeGreaterThan(100);
  }, 60_000);

  it('P6 a key who stays level and inside takes the room inside away', () => {
    // By the decision, a second and a half after the snap, he has run 5.3 yd at most.
    expect(
      gapsOf(
        row('near', 'out', range('keyOffset', ',3)'), range('roomInside', ',9)')),
        row('off', 'in', range('keyOffset', '[3,')),
        row('rushes', 'in', is('keyRushes', true)),
        row('deep', 'in', range('cushion', '(5,')),
        row('under', 'in', range('cushion', ',-5)')),
        row('outside', 'in', range('roomOutside', ',8)')),
      ),
    ).toEqual([]);
  });

  it('P6 a key rushes where all eleven do, though no row asks whether he does', () => {
    const rows = (most: number) => [
      row('others', 'in', range('rushers', `,${most}]`)),
      row('up', 'out', range('cushion', ',9]')),
    ];
    expect(gapsOf(...rows(10))).toEqual([]);
    expect(gapsOf(...rows(9))).toEqual(['cushion:(9,10];rushers:[10,11]']);
  });

  it('P6 a key stays where nobody rushes, though no row asks whether he does', () => {
    const rows = (least: number) => [
      row('near', 'out', range('keyOffset', ',3)'), range('roomInside', ',9)')),
      row('off', 'in', range('keyOffset', '[3,')),
      row('come', 'in', range('rushers', `[${least},`)),
      row('deep', 'in', range('cushion', '(5,')),
      row('under', 'in', range('cushion', ',-5)')),
      row('outside', 'in', range('roomOutside', ',8)')),
    ];
    expect(gapsOf(...rows(1))).toEqual([]);
    expect(gapsOf(...rows(2))).not.toEqual([]);
  });

  it('P6 a key is as far off at the decision as he stood, give or take what he can run', () => {
    expect(
      gapsOf(
        row('up', 'in', range('keyDepth', ',4]'), range('cushion', ',6)')),
        row('back', 'out', range('keyDepth', '(4,')),
      ),
    ).toEqual([]);
    expect(
      gapsOf(
        row('up', 'in', range('keyDepth', ',4]'), range('cushion', ',5)')),
        row('back', 'out', range('keyDepth', '(4,')),
      ),
    ).not.toEqual([]);
  });

  it('P6 a key who rushes gains no depth', () => {
    expect(
      gapsOf(
        row('rush', 'in', is('keyRushes', true), range('cushion', ',4]')),
        row('stay', 'out', is('keyRushes', false)),
        row('deep', 'out', range('keyDepth', '(8,')),
      ),
    ).toEqual([]);
  });

  it('N4 P6 a row that asks for more room than the sideline leaves is for another spot', () => {
    const wide = {
      ...card([
        row('room', 'out', range('roomOutside', '[19,')),
        row('none', 'in', range('roomOutside', ',19)')),
      ]),
      player: doubles().players.find(({ label }) => label === 'X')?.id ?? card([]).player,
    };
    expect(prove(doubles(), wide).neverUsed).toMatchObject([
      { row: 'room', because: 'notOnThisPlay' },
    ]);
    expect(prove(doubles(), wide).gaps).toEqual([]);
  });

  it('P6 where only the second level is scanned, a key over the ball is the middle linebacker', () => {
    const second = { ...head().key, levels: ['second' as const], reach: 20 };
    const read = card(
      [
        row('mike', 'in', oneOf('mikeLean', 'toward', 'balanced', 'away')),
        row('wide', 'out', range('keyOffset', ',2]')),
      ],
      { key: second },
    );
    // No middle linebacker and a key further in than two yards: he must then be past the tackles.
    expect(prove(doubles(), read).gaps.map(regionText)).toEqual(['keyOffset:(2,20];mikeLean:none']);
    const all = { ...read, rows: [...read.rows, row('far', 'out', range('keyOffset', '(2,3]'))] };
    expect(prove(doubles(), all).gaps).toHaveLength(1);
  });
});
