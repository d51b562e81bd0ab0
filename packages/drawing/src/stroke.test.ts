import { distance, type Point, pathLength } from '@stemline/football/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arrowHead, rounded, trimStart, zigzag } from './stroke.ts';

const point: fc.Arbitrary<Point> = fc.tuple(
  fc.double({ min: -50, max: 50, noNaN: true }),
  fc.double({ min: -50, max: 50, noNaN: true }),
);
const points = fc.array(point, { minLength: 2, maxLength: 8 });

describe('strokes', () => {
  it('a trimmed line is shorter by exactly what was cut, or gone', () => {
    fc.assert(
      fc.property(points, fc.double({ min: 0, max: 5, noNaN: true }), (line, cut) => {
        const left = trimStart(line, cut);
        if (left.length === 0) expect(pathLength(line)).toBeLessThanOrEqual(cut + 1e-6);
        else expect(pathLength(left)).toBeCloseTo(pathLength(line) - cut, 6);
      }),
    );
  });

  it('a zigzag begins and ends where its line does and stays beside it', () => {
    fc.assert(
      fc.property(points, (line) => {
        const wave = zigzag(line, 0.9, 0.26);
        expect(wave[0]).toEqual(line[0]);
        if (distance(line.at(-2) as Point, line.at(-1) as Point) > 1e-6)
          expect(distance(wave.at(-1) as Point, line.at(-1) as Point)).toBeLessThan(1e-9);
      }),
    );
  });

  it('an arrow head has its tip at the end, and points where the line goes', () => {
    const [head] = arrowHead(
      [
        [0, 0],
        [0, 5],
        [5, 5],
      ],
      1,
      'routeEnd',
    );
    expect(head).toMatchObject({
      kind: 'polygon',
      points: [
        [5, 5],
        [4, 5.46],
        [4, 4.54],
      ],
    });
    expect(
      arrowHead(
        [
          [1, 1],
          [1, 1],
        ],
        1,
        'routeEnd',
      ),
    ).toEqual([]);
  });

  it('a rounded line still ends at its last point and bends at its corners', () => {
    const [line] = rounded(
      [
        [0, 0],
        [0, 6],
        [6, 6],
      ],
      1.5,
      'route',
    );
    expect(line).toMatchObject({
      kind: 'path',
      steps: [{ to: [0, 4.5] }, { to: [1.5, 6], bend: [0, 6] }, { to: [6, 6] }],
    });
  });
});
