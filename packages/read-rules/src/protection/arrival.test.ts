import type { Point } from '@stemline/football/geometry';
import { describe, expect, it } from 'vitest';
import { wayPast } from './arrival.ts';

const line = [-2.8, -1.4, 0, 1.4, 2.8].map((x) => ({ at: [x, -0.5] as const }));
const passer: Point = [0, -7];
const straight = (from: Point): number => Math.hypot(from[0] - passer[0], from[1] - passer[1]);

describe('the way of a free rusher', () => {
  it('B2 is straight where nobody stands in it', () => {
    for (const from of [
      [4.6, 0.8],
      [-1.2, 4.5],
      [-6, 0.8],
    ] as const)
      expect(wayPast(from, passer, line)).toBeCloseTo(straight(from), 9);
    expect(wayPast([0, 4.5], passer, [])).toBeCloseTo(straight([0, 4.5]), 9);
  });

  it('B2 goes through the nearest gap of a man who stands over a blocker, and not through him', () => {
    const over: Point = [0, 4.5];
    const gap = Math.hypot(0.7, 5.5) + Math.hypot(0.7, 6);
    expect(wayPast(over, passer, line)).toBeCloseTo(gap, 9);
    const inside: Point = [1.6, 0.8];
    expect(wayPast(inside, passer, line)).toBeGreaterThan(straight(inside));
    expect(wayPast(inside, passer, line)).toBeLessThan(straight(inside) + 0.6);
  });

  it('B2 turns the edge where the blockers inside stand shoulder to shoulder', () => {
    const tight = [1.6, 2.2, 2.8].map((x) => ({ at: [x, -0.5] as const }));
    const from: Point = [3.2, 0.8];
    const round = Math.hypot(0.6, 1.8) + Math.hypot(3.8, 6);
    const inside = Math.hypot(2.6, 1.8) + Math.hypot(0.6, 6);
    expect(wayPast(from, passer, tight)).toBeCloseTo(Math.min(round, inside), 9);
    expect(wayPast([5, 0.8], passer, tight)).toBeGreaterThan(straight([5, 0.8]) - 1e-9);
  });
});
