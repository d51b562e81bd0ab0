import { usualCosts } from '@stemline/football/footwork/costs';
import { type Leg, type Run, runSchema } from '@stemline/football/footwork/run';
import {
  alongAt,
  positionAt,
  type TimedPath,
  timedPath,
} from '@stemline/football/footwork/timed-path';
import type { Sprint } from '@stemline/football/movement';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

const step = 1e-4;

/** Where he is after each twentieth of a second, by a runner who knows only the next tenth of a millisecond. */
function walked(runner: Sprint, run: Run, path: TimedPath): { time: number; along: number }[] {
  const braking = (usualCosts.braking * runner.maxSpeed) / runner.tau;
  const seen: { time: number; along: number }[] = [];
  let time = 0;
  let along = 0;
  let speed = run.start.kind === 'moving' ? run.start.speed : 0;
  const note = (): void => {
    if (Math.floor((time + step / 2) / 0.05) > Math.floor((time - step / 2) / 0.05))
      seen.push({ time, along });
  };
  const stand = (seconds: number): void => {
    for (const until = time + seconds; time < until - step / 2; time += step) note();
  };
  stand(run.start.kind === 'still' ? run.start.delay : 0);
  let from = run.from;
  let way: readonly [number, number] | null = null;
  let gait: Leg['gait'] = 'sprint';
  for (const [i, leg] of run.legs.entries()) {
    const mark = path.marks[i];
    if (!mark) throw new Error('a mark for each leg');
    const share = leg.gait === 'sprint' ? 1 : usualCosts[leg.gait];
    const limit = runner.maxSpeed * share;
    const [dx, dy] = [leg.to[0] - from[0], leg.to[1] - from[1]];
    if (mark.along > along) {
      if (way) speed = path.marks[i - 1]?.speed ?? 0;
      const ahead = way ? way[0] * dx + way[1] * dy > 1e-9 : false;
      const opens = gait === 'backpedal' && leg.gait === 'sprint' && ahead;
      const pushesFrom = time + (opens ? usualCosts.hipTurn : 0);
      let brakes = false;
      while (mark.along - along > 1e-7) {
        note();
        const needed = (speed ** 2 - mark.speed ** 2) / (2 * (mark.along - along));
        const drifts = time < pushesFrom - step / 2;
        brakes ||= !drifts && needed >= braking;
        const change = drifts ? 0 : brakes ? -needed : (limit - speed) / runner.tau;
        const next = Math.max(speed + change * step, 1e-3);
        along += ((speed + next) / 2) * step;
        speed = next;
        time += step;
      }
      along = mark.along;
      way = [dx, dy];
      gait = leg.gait;
      from = leg.to;
    }
    stand(leg.hesitate);
  }
  return seen;
}

const coordinate = fc.integer({ min: -12, max: 12 });
const pauses = fc.constantFrom(0, 0, 0, 0.15, 0.4);
const anyRun = fc
  .record({
    from: fc.constant([0, 0]),
    start: fc.oneof(
      fc.record({ kind: fc.constant('still'), delay: pauses }),
      fc.record({ kind: fc.constant('moving'), speed: fc.integer({ min: 0, max: 3 }) }),
    ),
    legs: fc.array(
      fc.record({
        to: fc.tuple(coordinate, coordinate),
        gait: fc.constantFrom('sprint', 'sprint', 'backpedal', 'shuffle'),
        hesitate: pauses,
      }),
      { minLength: 1, maxLength: 4 },
    ),
    finish: fc.constantFrom('through', 'stop'),
  })
  .map((run) => runSchema.parse(run));

describe('the closed form against a fine numeric integration', () => {
  it('is within 0.005 yd everywhere on any run', () => {
    let compared = 0;
    fc.assert(
      fc.property(anyRun, fc.integer({ min: 7, max: 10 }), (run, maxSpeed) => {
        const runner = { maxSpeed, tau: 1 };
        const path = timedPath(runner, run);
        for (const { time, along } of walked(runner, run, path)) {
          compared++;
          expect(Math.abs(alongAt(path, time) - along)).toBeLessThan(0.005);
        }
      }),
      { numRuns: 60, seed: 11 },
    );
    expect(compared).toBeGreaterThan(2000);
  });

  it('bends where the route bends', () => {
    const runner = { maxSpeed: 9.5, tau: 1 };
    const run = runSchema.parse({
      from: [5, -1],
      start: { kind: 'still', delay: 0.2 },
      legs: [
        { to: [5, 11], gait: 'sprint', hesitate: 0 },
        { to: [17, 11], gait: 'sprint', hesitate: 0 },
      ],
      finish: 'through',
    });
    const path = timedPath(runner, run);
    for (const { time, along } of walked(runner, run, path)) {
      const [x, y] = positionAt(path, time);
      expect(x).toBeCloseTo(along <= 12 ? 5 : along - 7, 1);
      expect(y).toBeCloseTo(along <= 12 ? along - 1 : 11, 1);
    }
  });
});
