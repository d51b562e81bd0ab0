import { arcOf, fly } from '@stemline/football/flight/arc';
import { airOf, standardBall } from '@stemline/football/flight/ball';
import { ballDistance, ballHeight, ballPath, spansBelow } from '@stemline/football/flight/path';
import { throwBall, throwSchema } from '@stemline/football/flight/throw';
import { radians } from '@stemline/football/units';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { flownFor, launched } from './flight-by-odex.ts';

const near = (low: number, high: number) => fc.double({ min: low, max: high, noNaN: true });

/** Throws over the whole of what `throwSchema` takes, drawn so that most are in range. */
const anyThrow = fc
  .record({
    distance: near(0.5, 60),
    releaseHeight: near(0, 3.5),
    catchHeight: near(0, 3.5),
    delivery: fc.oneof(
      fc.record({ kind: fc.constantFrom('drive', 'touch'), speed: near(10, 35) }),
      fc.record({ kind: fc.constant('loft'), angle: near(2, 75), maxSpeed: near(10, 35) }),
    ),
    ball: fc.record({
      dragCoefficient: near(0, 0.3),
      airDensity: near(0.7, 1.5),
      mass: near(0.35, 0.5),
      frontalArea: near(0.02, 0.026),
    }),
  })
  .map((thrown) => throwSchema.parse(thrown));

describe('the path of the ball in time, against the independent integrator (npm odex)', () => {
  it('is never 10⁻⁶ yd off, at the knots or between, for any throw', () => {
    let flights = 0;
    let worst = 0;
    fc.assert(
      fc.property(
        anyThrow,
        fc.array(near(0, 1), { minLength: 4, maxLength: 4 }),
        (thrown, parts) => {
          const flight = throwBall(thrown);
          if (flight.kind !== 'flight') return;
          flights++;
          const path = ballPath(flight);
          const start = launched(flight.speed, flight.angle, flight.releaseHeight);
          for (const part of [...parts, 1]) {
            const t = part * flight.time;
            const [x, height] = flownFor(flight.arc, start, t);
            const off = Math.hypot(ballDistance(path, t) - x, ballHeight(path, t) - height);
            worst = Math.max(worst, off);
            expect(off).toBeLessThan(1e-6);
          }
        },
      ),
      { numRuns: 300, seed: 4 },
    );
    expect(flights).toBeGreaterThan(150);
    expect(worst).toBeGreaterThan(0);
  });

  it.each([
    ['standard ball', standardBall, 1e-10],
    [
      'lightest ball with the most drag',
      { dragCoefficient: 0.3, airDensity: 1.5, mass: 0.35, frontalArea: 0.026 },
      1e-6,
    ],
  ])('the integrated arc of the %s at 35 yd/s is within its bound up to 85°', (_, ball, bound) => {
    for (const [angle, until] of [
      [0, -0.4],
      [20, -0.5],
      [30, -0.55],
      [45, -2],
      [60, -4],
      [75, -8],
      [85, -20],
    ] as const) {
      const air = airOf(ball);
      const flown = fly(arcOf(air, 1 / 35 ** 2, Math.tan(radians(angle))), until);
      const [x, y] = flownFor(air, launched(35, angle, 0), flown.time);
      expect(Math.hypot(x - flown.distance, y - flown.rise)).toBeLessThan(bound);
    }
  });

  it('tells when the ball is under a reach', () => {
    fc.assert(
      fc.property(anyThrow, near(0, 8), near(0, 1), (thrown, reach, part) => {
        const flight = throwBall(thrown);
        if (flight.kind !== 'flight') return;
        const path = ballPath(flight);
        const t = part * flight.time;
        const [, height] = flownFor(
          flight.arc,
          launched(flight.speed, flight.angle, flight.releaseHeight),
          t,
        );
        if (Math.abs(height - reach) < 1e-5) return;
        const below = spansBelow(path, reach).some(([from, to]) => from <= t && t <= to);
        expect(below).toBe(height < reach);
      }),
      { numRuns: 300, seed: 5 },
    );
  });
});
