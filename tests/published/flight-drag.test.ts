import { arcOf } from '@stemline/football/flight/arc';
import { dragPerMetre, standardBall, standardGravity } from '@stemline/football/flight/ball';
import { flyDownTo, lowLaunch } from '@stemline/football/flight/launch';
import { ballDistance, ballHeight, ballPath } from '@stemline/football/flight/path';
import { throwBall } from '@stemline/football/flight/throw';
import { describe, expect, it } from 'vitest';
import { flownFor, launched } from './flight-by-odex.ts';

/** Exact solutions of motion with drag ∝ v², metres; closed forms of any textbook of mechanics. */
const k = 0.00341384137;
const g = standardGravity;
const terminal = Math.sqrt(g / k);

describe('quadratic drag against its exact solutions', () => {
  it('the standard ball has k = ρ·Cd·A/2m = 0.003413841 /m', () => {
    expect(dragPerMetre(standardBall)).toBeCloseTo(k, 11);
  });

  it('along the ground, gravity vanishing: v₀ = 25 m/s after 1 s is at 23.990236 m with 23.034128 m/s', () => {
    const launch = lowLaunch({ gravity: 1e-3, drag: k }, { distance: 23.990236, rise: 0 }, 25);
    expect(launch?.flown.time).toBeCloseTo(1, 7);
    expect(1 / Math.sqrt(launch?.flown.inverseSquare ?? 0)).toBeCloseTo(23.034128, 5);
  });

  it('straight up with 20 m/s: 1.951970095 s to the top at 19.093830768 m', () => {
    const arc = arcOf({ gravity: g, drag: k }, 1 / 20 ** 2, 1e6);
    const top = 19.093830768;
    const flown = flyDownTo(arc, top - 1e-9);
    expect(flown?.time).toBeCloseTo(1.951970095, 4);
    expect(flyDownTo(arc, top + 1e-8)).toBeNull();
    expect((terminal ** 2 / (2 * g)) * Math.log1p((20 / terminal) ** 2)).toBeCloseTo(top, 8);
  });

  it('falling from rest: v = v_t·tanh(gt/v_t), y = (v_t²/g)·ln cosh(gt/v_t)', () => {
    const seconds = 2;
    const fall = (terminal ** 2 / g) * Math.log(Math.cosh((g * seconds) / terminal));
    const flown = flyDownTo(arcOf({ gravity: g, drag: k }, 1 / 0.01 ** 2, 0), -fall);
    expect(flown?.time).toBeCloseTo(seconds, 5);
    const speed = Math.sqrt(1 + (flown?.slope ?? 0) ** 2) / Math.sqrt(flown?.inverseSquare ?? 0);
    expect(speed).toBeCloseTo(terminal * Math.tanh((g * seconds) / terminal), 4);
  });
});

describe('the hodograph invariant 1/u² + (2k/g)·S(φ) (first integral in Hackborn 2006)', () => {
  const invariant = (air: { gravity: number; drag: number }, vx: number, vy: number): number => {
    const p = vy / vx;
    const s = (p * Math.sqrt(1 + p * p) + Math.asinh(p)) / 2;
    return 1 / vx ** 2 + ((2 * air.drag) / air.gravity) * s;
  };

  it('holds along the flight of the independent integrator', () => {
    const air = { gravity: g, drag: k };
    const start = launched(24.5872, 40, 2);
    const constant = invariant(air, start[2], start[3]);
    for (let t = 0.25; t <= 3; t += 0.25) {
      const [, , vx, vy] = flownFor(air, start, t);
      expect(invariant(air, vx, vy) / constant).toBeCloseTo(1, 11);
    }
  });

  it.each([
    ['drive', 20],
    ['touch', 35],
  ] as const)('holds along the timed path of a %s of %d yd', (kind, distance) => {
    const flight = throwBall({
      distance,
      releaseHeight: 2.2,
      catchHeight: 1.6,
      delivery: { kind, speed: 24 },
      ball: standardBall,
    });
    if (flight.kind !== 'flight') throw new Error('out of range');
    const path = ballPath(flight);
    const h = 1e-4;
    const ratios = Array.from({ length: 40 }, (_, i) => {
      const t = ((i + 0.5) * flight.time) / 40;
      const rate = (of: typeof ballDistance): number =>
        (of(path, t + h) - of(path, t - h)) / (2 * h);
      return invariant(flight.arc, rate(ballDistance), rate(ballHeight)) / flight.arc.constant;
    });
    for (const ratio of ratios) expect(ratio).toBeCloseTo(1, 6);
  });
});
