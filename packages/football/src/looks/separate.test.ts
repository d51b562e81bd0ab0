import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distance, type Point } from '../geometry.ts';
import { levelSchema } from '../look.ts';
import { widest } from './picture.ts';
import { elbowRoom, nearestLine, separate } from './separate.ts';

describe('separating', () => {
  it('leaves men alone who are apart already', () => {
    const men = [
      { level: 'line' as const, at: [0, 1] as Point },
      { level: 'second' as const, at: [0, 4.5] as Point },
    ];
    expect(separate(men, 30)).toEqual(men);
  });

  it('moves the man behind the front, not the front', () => {
    const [line, backer] = separate(
      [
        { level: 'line' as const, at: [3, 1] as Point },
        { level: 'second' as const, at: [3, 1] as Point },
      ],
      30,
    );
    expect(line?.at).toEqual([3, 1]);
    expect(backer?.at[1]).toBeGreaterThan(1);
  });

  it('finds room for eleven wherever they were wanted', () => {
    const man = fc.record({
      level: fc.constantFrom(...levelSchema.options),
      at: fc.tuple(
        fc.double({ min: -40, max: 40, noNaN: true }),
        fc.double({ min: -5, max: 40, noNaN: true }),
      ) as fc.Arbitrary<Point>,
    });
    const crowd = fc.oneof(
      fc.array(man, { minLength: 11, maxLength: 11 }),
      man.map((one) => Array.from({ length: 11 }, () => ({ ...one }))),
    );
    fc.assert(
      fc.property(crowd, fc.integer({ min: 10, max: 60 }), (men, deepest) => {
        const apart = separate(men, deepest);
        for (const [i, { at }] of apart.entries()) {
          expect(Math.abs(at[0])).toBeLessThanOrEqual(widest);
          expect(at[1]).toBeGreaterThanOrEqual(nearestLine);
          expect(at[1]).toBeLessThanOrEqual(deepest);
          for (const other of apart.slice(i + 1))
            expect(distance(at, other.at)).toBeGreaterThanOrEqual(elbowRoom - 1e-5);
        }
      }),
    );
  });
});
