import { arcOf } from '@stemline/football/flight/arc';
import { standardBall, standardGravity } from '@stemline/football/flight/ball';
import { flyDownTo } from '@stemline/football/flight/launch';
import { type Flight, type Throw, throwBall } from '@stemline/football/flight/throw';
import { metres, radians, yards } from '@stemline/football/units';
import { describe, expect, it } from 'vitest';

/** The exact formulas of a ball without drag, in metres: any textbook of mechanics. */
const g = standardGravity;
const timeDown = (v: number, angle: number, drop: number): number => {
  const up = v * Math.sin(radians(angle));
  return (up + Math.sqrt(up * up + 2 * g * drop)) / g;
};
const angleFor = (v: number, x: number, rise: number, arc: 1 | -1): number =>
  (Math.atan((v * v + arc * Math.sqrt(v ** 4 - g * (g * x * x + 2 * rise * v * v))) / (g * x)) *
    180) /
  Math.PI;

const vacuum = { ...standardBall, dragCoefficient: 0 };
const flight = (thrown: Throw): Flight => {
  const result = throwBall(thrown);
  if (result.kind !== 'flight') throw new Error(`out of range: ${JSON.stringify(result)}`);
  return result;
};

describe('a ball without drag flies as the vacuum formulas say', () => {
  it('20 m/s at 45° from the ground: t = 2.884193 s, R = 40.788649 m, apex 10.197162 m', () => {
    const arc = arcOf({ gravity: g, drag: 0 }, 1 / 20 ** 2, 1);
    const flown = flyDownTo(arc, 0);
    expect(flown?.time).toBeCloseTo(2.884193, 6);
    expect(flown?.distance).toBeCloseTo(40.788649, 6);
    expect(yards(flown?.distance ?? 0)).toBeCloseTo(44.607, 4);
  });

  it.each([
    [18, 12, -0.5],
    [20, 25, -0.5],
    [24.5872, 30, 0.4],
    [27.432, 60, -1],
    [12, 3, 1],
  ])(
    'at %d m/s over %d m to a catch %d m above the release both arcs have the exact angle and time',
    (v, x, rise) => {
      for (const [kind, sign] of [
        ['drive', -1],
        ['touch', 1],
      ] as const) {
        const thrown = flight({
          distance: yards(x),
          releaseHeight: yards(2),
          catchHeight: yards(2 + rise),
          delivery: { kind, speed: yards(v) },
          ball: vacuum,
        });
        const angle = angleFor(v, x, rise, sign);
        const apex = 2 + Math.max(0, v * Math.sin(radians(angle))) ** 2 / (2 * g);
        expect(thrown.angle).toBeCloseTo(angle, 9);
        expect(thrown.time).toBeCloseTo(x / (v * Math.cos(radians(angle))), 10);
        if (thrown.arrivalAngle < 0) expect(metres(thrown.apex)).toBeCloseTo(apex, 9);
        expect(metres(thrown.arrivalSpeed)).toBeCloseTo(Math.sqrt(v * v - 2 * g * rise), 9);
      }
    },
  );

  it.each([20, 35, 50])('a loft at %d° takes the speed that the formula gives', (angle) => {
    const x = 25;
    const rise = -0.5;
    const thrown = flight({
      distance: yards(x),
      releaseHeight: yards(2),
      catchHeight: yards(2 + rise),
      delivery: { kind: 'loft', angle, maxSpeed: 30 },
      ball: vacuum,
    });
    const slope = Math.tan(radians(angle));
    const v = Math.sqrt((g * x * x * (1 + slope * slope)) / (2 * (slope * x - rise)));
    expect(metres(thrown.speed)).toBeCloseTo(v, 9);
    expect(thrown.time).toBeCloseTo(timeDown(v, angle, -rise), 9);
  });

  it('the longest throw is v/g·√(v² − 2gh), and one yard more is out of range by that number', () => {
    const v = 20;
    const rise = -0.5;
    const longest = yards((v / g) * Math.sqrt(v * v - 2 * g * rise));
    const thrown = (distance: number) =>
      throwBall({
        distance,
        releaseHeight: yards(2),
        catchHeight: yards(1.5),
        delivery: { kind: 'drive', speed: yards(v) },
        ball: vacuum,
      });
    expect(thrown(longest - 1e-6).kind).toBe('flight');
    const over = thrown(longest + 1);
    expect(over.kind === 'outOfRange' && over.why === 'tooFar' && over.farthest).toBeCloseTo(
      longest,
      9,
    );
  });
});
