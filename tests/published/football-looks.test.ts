import { receivers } from '@stemline/football/count';
import { formations, playersOf } from '@stemline/football/formation';
import type { AlignedLook } from '@stemline/football/look';
import type { Technique } from '@stemline/football/looks/recipe';
import { techniqueOffset } from '@stemline/football/looks/technique';
import { zones } from '@stemline/football/looks/zones';
import { lineHalf } from '@stemline/football/offensive-line';
import type { Play, Situation } from '@stemline/football/play';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import { describe, expect, it } from 'vitest';

/** Everything in this file is common practice in coaching, no single source; staffs differ. */
const situation: Situation = { code: 'college', spot: 'middle', toGoal: 60, down: 1, toGain: 10 };
const against = (formation: string): Play => ({
  name: formation,
  concept: '',
  situation,
  players: playersOf(formation, { strength: 'right', situation }),
  routes: {},
  motions: {},
});

describe('techniques: even is head-up, odd the outside shoulder, "i" the inside (common practice)', () => {
  const tightEndSide = lineHalf(against('doubles-tight-end'), 'right');
  const openSide = lineHalf(against('doubles-tight-end'), 'left');

  it('the line it is measured on: guard 1.4, tackle 2.8, tight end 4.2 yd from the ball', () => {
    expect(tightEndSide).toMatchObject({ guard: 1.4, tackle: 2.8, tightEnd: true });
    expect(tightEndSide.end).toBeCloseTo(4.2, 9);
    expect(openSide.tightEnd).toBe(false);
    expect(openSide.end).toBeCloseTo(4.2, 9);
  });

  const table: readonly [
    Technique,
    'centre' | 'guard' | 'tackle' | 'end',
    'inside' | 'head-up' | 'outside',
  ][] = [
    ['0', 'centre', 'head-up'],
    ['1', 'centre', 'outside'],
    ['2i', 'guard', 'inside'],
    ['2', 'guard', 'head-up'],
    ['3', 'guard', 'outside'],
    ['4i', 'tackle', 'inside'],
    ['4', 'tackle', 'head-up'],
    ['5', 'tackle', 'outside'],
    ['6i', 'end', 'inside'],
    ['6', 'end', 'head-up'],
    ['9', 'end', 'outside'],
  ];
  it.each(table)('%s: %s, %s', (technique, over, shade) => {
    const nose = { centre: 0, guard: 1.4, tackle: 2.8, end: 4.2 }[over];
    const delta = techniqueOffset(technique, tightEndSide) - nose;
    if (shade === 'head-up') expect(Math.abs(delta)).toBeLessThanOrEqual(0.3);
    else {
      expect(Math.abs(delta)).toBeGreaterThanOrEqual(0.3);
      expect(Math.abs(delta)).toBeLessThanOrEqual(0.7);
      expect(delta > 0).toBe(shade === 'outside');
    }
  });
});

describe('coverages: deep, under, man and rush (common practice)', () => {
  /** Look, then how many are called deep, to a zone underneath or a wall, to a man, and to rush. */
  const table: readonly [string, { deep: number; under: number; man: number; rush: number }][] = [
    ['over-zero', { deep: 0, under: 0, man: 5, rush: 6 }],
    ['bear-zero', { deep: 0, under: 0, man: 5, rush: 6 }],
    ['goal-line', { deep: 0, under: 0, man: 5, rush: 6 }],
    ['over-free', { deep: 1, under: 1, man: 5, rush: 4 }],
    ['odd-free', { deep: 1, under: 1, man: 5, rush: 4 }],
    ['bear-free', { deep: 1, under: 0, man: 5, rush: 5 }],
    ['over-robber', { deep: 1, under: 1, man: 5, rush: 4 }],
    ['over-two', { deep: 2, under: 5, man: 0, rush: 4 }],
    ['over-two-man', { deep: 2, under: 0, man: 5, rush: 4 }],
    ['over-three', { deep: 3, under: 4, man: 0, rush: 4 }],
    ['over-rotate', { deep: 3, under: 4, man: 0, rush: 4 }],
    ['over-quarters', { deep: 4, under: 3, man: 0, rush: 4 }],
    ['tite-quarters', { deep: 4, under: 3, man: 0, rush: 4 }],
    ['over-buzz', { deep: 3, under: 4, man: 0, rush: 4 }],
    ['over-cloud', { deep: 3, under: 4, man: 0, rush: 4 }],
    ['over-six', { deep: 3, under: 4, man: 0, rush: 4 }],
    ['over-fire-strong', { deep: 3, under: 3, man: 0, rush: 5 }],
    ['under-fire-weak', { deep: 3, under: 3, man: 0, rush: 5 }],
    ['odd-fire-middle', { deep: 3, under: 3, man: 0, rush: 5 }],
    ['stack-drop-eight', { deep: 3, under: 5, man: 0, rush: 3 }],
  ];

  const count = (look: AlignedLook) => {
    const counted = { deep: 0, under: 0, man: 0, rush: 0 };
    const deepZones = new Set<string>(
      Object.entries(zones).flatMap(([id, { deep }]) => (deep ? [id] : [])),
    );
    for (const { reactions } of look.defenders) {
      const call = reactions[0];
      if (call?.move === 'rush' || call?.move === 'man') counted[call.move]++;
      else if (call && deepZones.has(call.id)) counted.deep++;
      else counted.under++;
    }
    return counted;
  };

  it.each(table)('%s', (id, expected) => {
    const recipe = builtInLooks.find((look) => look.id === id);
    expect(recipe).toBeDefined();
    if (recipe) expect(count(alignLook(recipe, against('doubles')))).toEqual(expected);
  });

  it('a fire zone comes off the strong edge, off the weak edge and through the middle', () => {
    const extra = (id: string, label: string): number => {
      const recipe = builtInLooks.find((look) => look.id === id);
      const look = recipe && alignLook(recipe, against('doubles'));
      const man = look?.defenders.find((one) => one.label === label);
      expect(man?.reactions[0]?.move, `${label} in ${id}`).toBe('rush');
      return man?.at[0] ?? 99;
    };
    expect(extra('over-fire-strong', 'NB')).toBeGreaterThan(2.8);
    expect(extra('under-fire-weak', 'W')).toBeLessThan(-2.8);
    expect(Math.abs(extra('odd-fire-middle', 'M'))).toBeLessThan(2.8);
  });

  it('sky, buzz and cloud: the flat to strength is the safety’s, the overhang’s, the corner’s', () => {
    const callOf = (id: string, label: string, right = true): string | undefined => {
      const recipe = builtInLooks.find((look) => look.id === id);
      const look = recipe && alignLook(recipe, against('doubles'));
      const man = look?.defenders.find(
        (one) => one.label === label && (label !== 'C' || one.at[0] > 0 === right),
      );
      return man?.reactions[0]?.id;
    };
    expect(callOf('over-rotate', 'SS')).toBe('curlFlat');
    expect(callOf('over-buzz', 'SS')).toBe('hook');
    expect(callOf('over-buzz', 'NB')).toBe('curlFlat');
    expect(callOf('over-cloud', 'SS')).toBe('third');
    expect(callOf('over-cloud', 'C')).toBe('flat');
    expect(callOf('over-cloud', 'C', false)).toBe('third');
  });

  it('against three to a side Mike has the third receiver in two-deep, six, match and fire zones', () => {
    for (const id of [
      'over-two',
      'over-six',
      'over-quarters',
      'over-three-match',
      'under-fire-weak',
    ]) {
      const recipe = builtInLooks.find((look) => look.id === id);
      const look = recipe && alignLook(recipe, against('trips'));
      const mike = look?.defenders.find(({ label }) => label === 'M');
      expect(mike?.reactions[0]?.says, id).toBe('walls A from the inside');
    }
  });

  it('against an empty backfield the strong fire zone is checked off: four rush', () => {
    const recipe = builtInLooks.find(({ id }) => id === 'over-fire-strong');
    const look = recipe && alignLook(recipe, against('empty'));
    expect(look && count(look)).toEqual({ deep: 3, under: 4, man: 0, rush: 4 });
  });

  it('Tampa: two halves, and the middle linebacker runs to 15 to 20 yd', () => {
    const recipe = builtInLooks.find(({ id }) => id === 'dime-tampa');
    const look = recipe && alignLook(recipe, against('doubles'));
    const mike = look?.defenders.find(({ label }) => label === 'M')?.reactions[0];
    expect(mike?.to[1]).toBeGreaterThanOrEqual(15);
    expect(mike?.to[1]).toBeLessThanOrEqual(20);
    expect(look && count(look).deep).toBe(2);
    // Both safeties stay outside, so to a passer the middle is open.
    expect(look?.traits.middle).toBe('open');
  });
});

describe('zones: depth of the drop (common practice)', () => {
  it.each([
    ['flat', 3, 6],
    ['curlFlat', 8, 12],
    ['hook', 8, 12],
    ['middleHook', 8, 12],
    ['pole', 15, 20],
    ['robber', 6, 10],
    ['third', 12, 25],
    ['half', 14, 18],
    ['quarter', 10, 15],
    ['insideQuarter', 10, 15],
  ] as const)('%s: %i to %i yd', (zone, from, to) => {
    expect(zones[zone].depth).toBeGreaterThanOrEqual(from);
    expect(zones[zone].depth).toBeLessThanOrEqual(to);
  });
});

describe('quarters (common practice)', () => {
  it.each(['doubles', 'two-tight-ends', 'trips'])(
    '%s: each safety is over the second receiver of his side as he drops, from every hash',
    (formation) => {
      for (const spot of ['left', 'middle', 'right'] as const)
        for (const strength of ['left', 'right'] as const) {
          const situation = { code: 'college', spot, toGoal: 60, down: 1, toGain: 10 } as const;
          const play: Play = {
            name: formation,
            concept: '',
            situation,
            players: playersOf(formation, { strength, situation }),
            routes: {},
            motions: {},
          };
          const recipe = builtInLooks.find(({ id }) => id === 'over-quarters');
          if (!recipe) throw new Error('there are no quarters');
          const { left, right } = receivers(play);
          const safeties = alignLook(recipe, play).defenders.filter(
            ({ level }) => level === 'deep',
          );
          for (const second of [left[1], right[1]]) {
            if (!second) continue;
            const over = safeties.filter(
              ({ reactions: [call] }) => Math.abs((call?.to[0] ?? 99) - second.at[0]) < 0.05,
            );
            expect(over, `${spot} ${strength} ${second.label}`).toHaveLength(1);
          }
        }
    },
  );
});

describe('depths before the snap (common practice)', () => {
  const where = (id: string, label: string, formation = 'doubles'): number[] => {
    const recipe = builtInLooks.find((look) => look.id === id);
    const defenders = recipe ? alignLook(recipe, against(formation)).defenders : [];
    return defenders.filter((one) => one.label === label).map(({ at }) => at[1]);
  };
  const between = (depths: readonly number[], from: number, to: number): void => {
    expect(depths.length).toBeGreaterThan(0);
    for (const depth of depths) {
      expect(depth).toBeGreaterThanOrEqual(from);
      expect(depth).toBeLessThanOrEqual(to);
    }
  };

  it('press corner 0.5 to 1.5, squat corner 4 to 6, three-deep and quarters corner 6 to 8', () => {
    between(where('over-two-man', 'C'), 0.5, 1.5);
    between(where('over-two', 'C'), 4, 6);
    between(where('over-three', 'C'), 6, 8);
    between(where('over-quarters', 'C'), 6, 8);
  });

  it('nickel 4 to 6, inside linebacker 4 to 5', () => {
    between(where('over-quarters', 'NB'), 4, 6);
    between(where('over-quarters', 'M'), 4, 5);
    between(where('odd-two', 'M'), 4, 5);
  });

  it('cover-two safeties 10 to 15, quarters safeties 8 to 12, the single high one 12 to 15', () => {
    between([...where('over-two', 'SS'), ...where('over-two', 'FS')], 10, 15);
    between([...where('over-quarters', 'SS'), ...where('over-quarters', 'FS')], 8, 12);
    between(where('over-three', 'FS'), 12, 15);
  });

  it('trips: the weak safety of quarters cheats over the ball', () => {
    const recipe = builtInLooks.find(({ id }) => id === 'over-quarters');
    const look = recipe && alignLook(recipe, against('trips'));
    const safety = look?.defenders.find(({ label }) => label === 'FS');
    expect(Math.abs(safety?.at[0] ?? 99)).toBeLessThan(4);
    expect(safety?.reactions[0]?.says).toContain('third receiver');
  });
});

describe('structures of the formations (common practice)', () => {
  it.each([
    ['doubles', '2x2'],
    ['trips', '3x1'],
    ['bunch', '3x1'],
    ['tight', '2x2'],
    ['empty', '3x2'],
    ['quads', '4x1'],
    ['two-backs', '2x1'],
  ])('%s is %s', (id, structure) => {
    expect(formations.find((formation) => formation.id === id)?.structure).toBe(structure);
  });

  it('a bunch stands within about a yard and a half of each other, an inset #1 within 6 yd of the tackle', () => {
    const spots = against('bunch')
      .players.filter(({ label }) => ['Y', 'H', 'Z'].includes(label))
      .map(({ at }) => at[0])
      .sort((a, b) => a - b);
    for (const [i, x] of spots.slice(1).entries())
      expect(x - (spots[i] ?? 0)).toBeLessThanOrEqual(1.5);
    const tight = against('tight').players.find(({ label }) => label === 'X');
    expect(Math.abs(tight?.at[0] ?? 99) - 2.8).toBeLessThanOrEqual(6);
  });
});
