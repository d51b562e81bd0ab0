import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { branchPoints } from './branch-path.ts';
import { branch, card, doubles, h, slot } from './testing/cards.ts';

const [x, y] = slot();
const withStem = (stem: readonly (readonly [number, number])[]) => ({
  ...doubles(),
  routes: {
    [h]: {
      release: { side: 'free' as const, hesitate: 0 },
      stem,
      finish: [],
      shape: 'sharp' as const,
      name: '',
    },
  },
});
const last = <T>(list: readonly T[]): T | undefined => list.at(-1);

describe('branch paths', () => {
  it('go straight up to the break and then in toward the ball, or out', () => {
    const run = (kind: 'in' | 'out') =>
      branchPoints(doubles(), card([]), branch('b', { finish: { kind, angle: 90, run: 4 } }));
    expect(run('in')).toEqual([
      [x, y],
      [x, 5],
      [expect.closeTo(x - 4, 9), expect.closeTo(5, 9)],
    ]);
    expect(run('out')[2]).toEqual([expect.closeTo(x + 4, 9), expect.closeTo(5, 9)]);
  });

  it('break where the stem ends if the branch allows it, else at the nearest depth it allows', () => {
    const sit = branch('b', { finish: { kind: 'sit' } });
    const depth = (stemEnd: number) =>
      last(branchPoints(withStem([[0, stemEnd - y]]), card([]), sit))?.[1];
    expect(depth(5.5)).toBeCloseTo(5.5, 9);
    expect(depth(9)).toBeCloseTo(6, 9);
    expect(depth(2)).toBeCloseTo(5, 9);
  });

  it('an angle under 90 climbs, over 90 comes back', () => {
    const end = (angle: number) =>
      last(
        branchPoints(doubles(), card([]), branch('b', { finish: { kind: 'out', angle, run: 4 } })),
      )?.[1] ?? 0;
    expect(end(45)).toBeGreaterThan(5);
    expect(end(120)).toBeLessThan(5);
  });

  it('of a man who is not on the field are empty, of a target or a block one point', () => {
    const gone = { ...doubles(), players: [] };
    expect(branchPoints(gone, card([]), branch('b'))).toEqual([]);
    const target = { id: branch('t').id, name: 'Z', kind: 'target' as const, player: h };
    expect(branchPoints(doubles(), card([]), target)).toEqual([[x, y]]);
  });

  it('start where he stands and hold finite points, whatever the stem', () => {
    const offset = fc.tuple(fc.integer({ min: -10, max: 10 }), fc.integer({ min: -5, max: 20 }));
    fc.assert(
      fc.property(
        fc.array(offset, { minLength: 1, maxLength: 6 }),
        fc.nat({ max: 20 }),
        (stem, from) => {
          const points = branchPoints(
            withStem(stem),
            card([]),
            branch('b', { breakAt: { from, to: from + 2 } }),
          );
          expect(points[0]).toEqual([x, y]);
          expect(points.flat().every(Number.isFinite)).toBe(true);
          // The cut of a stem is a sum of floats: [0,-5] [0,18] [0,0] ends 1e-15 short of the line.
          expect(last(points)?.[1]).toBeGreaterThanOrEqual(Math.min(from, 0) - 1e-9);
        },
      ),
      {
        examples: [
          [
            [
              [0, -5],
              [0, 18],
              [0, 0],
            ],
            0,
          ],
        ],
      },
    );
  });
});
