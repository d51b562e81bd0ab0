import { backs, receivers, receiversWithBacks, strengthWithReason } from '@stemline/football/count';
import { fieldOf, halfWidth } from '@stemline/football/field';
import { playersOf } from '@stemline/football/formation';
import { landmarks } from '@stemline/football/landmark';
import { personnel } from '@stemline/football/personnel';
import type { Play, Player, Spot } from '@stemline/football/play';
import { routeTree, treeRoute } from '@stemline/football/route-tree';
import { describe, expect, it } from 'vitest';

/** How receivers, strength and routes are told: common practice in coaching, no single source, unless named. */
const play = (formation: string, strength: 'left' | 'right', spot: Spot = 'middle'): Play => {
  const situation = { code: 'highSchool', spot, toGoal: 60, down: 1, toGain: 10 } as const;
  return {
    name: formation,
    concept: '',
    situation,
    players: playersOf(formation, { strength, situation }),
    routes: {},
    motions: {},
  };
};
const labels = (players: readonly Player[]): string => players.map(({ label }) => label).join(' ');
const moved = (one: Play, who: string, at: readonly [number, number]): Play => ({
  ...one,
  players: one.players.map((player) => (player.label === who ? { ...player, at } : player)),
});

describe('receivers are counted from the sideline in, the back after them', () => {
  it.each([
    ['doubles', 'X A', 'Z H', 'F'],
    ['trips', 'X', 'Z H A', 'F'],
    ['empty', 'X F', 'Z H A', ''],
    ['quads', 'X', 'Z H A F', ''],
    ['two-backs', 'X', 'Z Y', 'F B'],
    ['two-tight-ends', 'X U', 'Z Y', 'F'],
  ])('%s: %s | %s | %s', (formation, left, right, behind) => {
    const count = receivers(play(formation, 'right'));
    expect([labels(count.left), labels(count.right)]).toEqual([left, right]);
    expect(
      labels(backs(play(formation, 'right')))
        .split(' ')
        .sort()
        .join(' '),
    ).toBe(behind.split(' ').sort().join(' '));
    const mirrored = receivers(play(formation, 'left'));
    expect([labels(mirrored.right), labels(mirrored.left)]).toEqual([left, right]);
  });

  it('the back is #3 of a side of two, and #4 to trips', () => {
    const toTrips = moved(play('trips', 'right'), 'F', [1.6, -5]);
    expect(receiversWithBacks(play('doubles', 'right')).left[2]?.label).toBe('F');
    expect(receiversWithBacks(toTrips).right[3]?.label).toBe('F');
  });

  it('in a stack the man nearer the line is the point; motion counts anew on the side he comes to', () => {
    const stack = moved(play('doubles', 'right'), 'H', [19.4, -2.5]);
    expect(labels(receivers(stack).right)).toBe('Z H');
    const doubles = play('doubles', 'right');
    const a = doubles.players.find(({ label }) => label === 'A');
    if (!a) throw new Error('no slot');
    const across: Play = {
      ...doubles,
      motions: { [a.id]: { path: [[7 - a.at[0], 0]], atSnap: 'moving' } },
    };
    expect(labels(receivers(across).left)).toBe('X');
    expect(labels(receivers(across).right)).toBe('Z H A');
  });
});

describe('strength', () => {
  it('is the side with more receivers, then the wide side, then the tight end’s', () => {
    for (const side of ['left', 'right'] as const) {
      expect(strengthWithReason(play('trips', side))).toEqual({ side, because: 'receivers' });
      expect(strengthWithReason(play('doubles-tight-end', side, 'middle')).side).toBe(side);
    }
    expect(strengthWithReason(play('doubles', 'right', 'right'))).toEqual({
      side: 'left',
      because: 'field',
    });
    expect(strengthWithReason(play('doubles', 'right', 'left'))).toEqual({
      side: 'right',
      because: 'field',
    });
  });
});

describe('personnel: running backs, then tight ends (Wikipedia, "Personnel grouping (gridiron football)")', () => {
  it.each([
    ['doubles', '10'],
    ['doubles-tight-end', '11'],
    ['two-tight-ends', '12'],
    ['two-backs', '21'],
    ['unbalanced', '11'],
  ])('%s is %s', (formation, digits) => {
    expect(personnel(play(formation, 'right').players)).toBe(digits);
  });

  it('five wide receivers are 00, and wide receivers are five less the sum', () => {
    const { players } = play('empty', 'right');
    const wide = players.map(
      (one): Player => (one.label === 'F' ? { ...one, position: 'WR' } : one),
    );
    expect(personnel(wide)).toBe('00');
    for (const formation of ['doubles', 'trips-tight-end', 'two-backs', 'two-tight-ends']) {
      const all = play(formation, 'right').players;
      const sum = [...personnel(all)].reduce((n, digit) => n + Number(digit), 0);
      expect(all.filter(({ position }) => position === 'WR')).toHaveLength(5 - sum);
    }
  });
});

describe('the numbered route tree (one common numbering; even in, odd out second hand)', () => {
  it.each([
    [0, 'hitch', 5, 6],
    [1, 'out', 5, 5],
    [2, 'slant', 3, 5],
    [3, 'comeback', 14, 16],
    [4, 'curl', 10, 14],
    [5, 'deep out', 10, 15],
    [6, 'dig', 10, 15],
    [7, 'corner', 10, 14],
    [8, 'post', 10, 14],
  ] as const)('%i is the %s, broken at %i to %i yd', (number, name, from, to) => {
    expect(routeTree[number]).toMatchObject({ name });
    expect(routeTree[number]?.breakAt).toBeGreaterThanOrEqual(from);
    expect(routeTree[number]?.breakAt).toBeLessThanOrEqual(to);
  });

  it('odd numbers break toward the sideline, even ones toward the middle, 9 goes straight', () => {
    for (const x of [-18, 18])
      for (let number = 0; number < 9; number++) {
        const route = treeRoute(number, x, 0);
        const end = route?.finish.at(-1)?.[0] ?? 0;
        expect(Math.sign(end) === Math.sign(x), String(number)).toBe(number % 2 === 1);
      }
    expect(treeRoute(9, 18, 0)?.finish.at(-1)?.[0]).toBe(0);
    expect(treeRoute(10, 18, 0)).toBeNull();
  });

  it('corner and slant run at 45°, a curl comes back', () => {
    for (const number of [2, 7]) {
      const [across = 0, up = 0] = routeTree[number]?.finish[0] ?? [];
      expect(Math.abs(across)).toBe(up);
    }
    expect(routeTree[4]?.finish[0]?.[1]).toBeLessThan(0);
  });
});

describe('landmarks across the field', () => {
  it('tops of the numbers 9, bottoms 7 yd from the sideline (NFHS, NCAA second hand); 14 and 12 (NFL, computed)', () => {
    for (const [code, top, bottom] of [
      ['highSchool', 9, 7],
      ['college', 9, 7],
      ['professional', 14, 12],
    ] as const) {
      const named = landmarks(code, play('doubles', 'right'));
      const at = (name: string) => named.find((one) => one.name === name)?.at ?? Number.NaN;
      expect(halfWidth - at('right top of the numbers')).toBeCloseTo(top, 9);
      expect(halfWidth - at('right bottom of the numbers')).toBeCloseTo(bottom, 9);
      expect(at('right hash')).toBeCloseTo(fieldOf(code).hash, 9);
    }
  });
});
