import { ballDistance, ballHeight, ballPath } from '@stemline/football/flight/path';
import { keeps, usualCosts } from '@stemline/football/footwork/costs';
import { breakRun } from '@stemline/football/footwork/runs';
import { timedPath } from '@stemline/football/footwork/timed-path';
import type { Point } from '@stemline/football/geometry';
import { sprintPreset } from '@stemline/football/sprint-presets';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { armsLength, reachesUp, shields } from '../clock/values.ts';
import { ballsTo, type ThrownBall } from '../throws/ball.ts';
import type { FreeDefender } from './defender-clock.ts';
import { laneOf } from './lane.ts';
import { leastMargin } from './margin.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const point = (x: number, low: number, high: number): fc.Arbitrary<Point> =>
  fc.tuple(number(-x, x), number(low, high));

/** A ball to a man who runs straight, thrown any of the ways there are. */
const ball: fc.Arbitrary<ThrownBall> = fc
  .record({
    from: point(20, -1, 5),
    to: point(26, 2, 40),
    out: number(1, 3),
    way: fc.nat(2),
  })
  .map(({ from, to, out, way }) => {
    const path = timedPath(sprintPreset('college', 'WR'), breakRun(from, to, 0.4));
    const { usual, others } = ballsTo('college', path, [0, -7], out);
    return [usual, ...others()][way % (1 + others().length)] ?? null;
  })
  .filter((one) => one !== null);

const defender: fc.Arbitrary<FreeDefender> = fc
  .record({
    free: number(1, 4),
    at: point(26, 0.6, 30),
    velocity: point(5, -5, 5),
    position: fc.constantFrom('DE' as const, 'OLB' as const, 'CB' as const, 'S' as const),
  })
  .map(({ position, ...rest }) => ({ ...rest, runner: sprintPreset('college', position) }));

/** When he has run so far from a speed: the sprint model by bisection, without its closed inverse. */
function secondsFor({ runner }: FreeDefender, speed: number, yards: number): number {
  const run = (t: number): number =>
    runner.maxSpeed * t - (runner.maxSpeed - speed) * runner.tau * (1 - Math.exp(-t / runner.tau));
  let [low, high] = [0, 60];
  for (let turn = 0; turn < 60; turn++) {
    const middle = (low + high) / 2;
    if (run(middle) < yards) low = middle;
    else high = middle;
  }
  return high;
}

const gridSteps = 1500;

/** The least margin by looking at every instant of the flight. */
function byBruteForce(one: FreeDefender, thrown: ThrownBall): number | null {
  const path = ballPath(thrown.flight);
  const length = Math.hypot(thrown.to[0] - thrown.from[0], thrown.to[1] - thrown.from[1]);
  const way: Point = [
    (thrown.to[0] - thrown.from[0]) / length,
    (thrown.to[1] - thrown.from[1]) / length,
  ];
  const beyond =
    (one.at[0] - thrown.from[0]) * way[0] + (one.at[1] - thrown.from[1]) * way[1] - length;
  if (beyond > 0.5) return null;
  let least: number | null = null;
  for (let i = 0; i <= gridSteps; i++) {
    const s = (thrown.flight.time * i) / gridSteps;
    const along = ballDistance(path, s);
    const spot: Point = [thrown.from[0] + way[0] * along, thrown.from[1] + way[1] * along];
    if (ballHeight(path, s) > reachesUp.value || along > length - shields.value || spot[1] < 0.5)
      continue;
    const [dx, dy] = [spot[0] - one.at[0], spot[1] - one.at[1]];
    const run = Math.max(0, Math.hypot(dx, dy) - armsLength.value);
    const turn =
      (Math.abs(
        Math.atan2(
          one.velocity[0] * dy - one.velocity[1] * dx,
          one.velocity[0] * dx + one.velocity[1] * dy,
        ),
      ) *
        180) /
      Math.PI;
    const speed = Math.hypot(...one.velocity) * keeps(usualCosts, turn);
    const margin = one.free + secondsFor(one, speed, run) - (thrown.out + s);
    if (least === null || margin < least) least = margin;
  }
  return least;
}

/** What a step of the grid can hide: the ball's way in it, run from a stand. Seconds. */
const unseen = 0.02;

describe('the margin of a defender under a ball', () => {
  it('T9 is the least over the whole flight: brute force on a fine grid finds none less', () => {
    let found = 0;
    fc.assert(
      fc.property(ball, defender, (thrown, one) => {
        const lane = laneOf(thrown);
        const brute = byBruteForce(one, thrown);
        const margin = lane && leastMargin(one, lane, 10);
        if (!margin || brute === null) {
          // A lane a grid step long may fall between two instants.
          expect(margin && brute !== null && brute < 10).toBeFalsy();
          return;
        }
        found += 1;
        expect(margin.seconds).toBeLessThanOrEqual(brute + 1e-3);
        expect(margin.seconds).toBeGreaterThanOrEqual(brute - unseen);
      }),
      { numRuns: 400 },
    );
    expect(found).toBeGreaterThan(100);
  });

  it('T9 leaves out nobody who is within what is asked for', () => {
    fc.assert(
      fc.property(ball, defender, number(-0.5, 0.5), (thrown, one, near) => {
        const lane = laneOf(thrown);
        const whole = lane && leastMargin(one, lane, 10);
        const asked = lane && leastMargin(one, lane, near);
        if (!whole || whole.seconds > near) expect(asked).toBeNull();
        else expect(asked?.seconds).toBe(whole.seconds);
      }),
      { numRuns: 1000 },
    );
  });

  it('T9 a man who stands in the lane and has had time to see it is there before the ball', () => {
    const path = timedPath(sprintPreset('college', 'WR'), breakRun([0, 0], [0, 6], 0.2));
    const { usual } = ballsTo('college', path, [0, -7], 2);
    const lane = usual && laneOf(usual);
    if (!lane) throw new Error('no ball');
    const stands = (at: Point, free: number): FreeDefender => ({
      free,
      at,
      velocity: [0, 0],
      runner: sprintPreset('college', 'OLB'),
    });
    expect(leastMargin(stands([0, 3], 2.2), lane, 0)?.seconds).toBeLessThan(-0.1);
    expect(leastMargin(stands([0, 3], 3.5), lane, 0)).toBeNull();
    expect(leastMargin(stands([8, 3], 2.2), lane, 0)).toBeNull();
    expect(leastMargin(stands([0, 8], 1), lane, 0)).toBeNull();
  });
});
