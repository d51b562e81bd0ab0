import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distance } from '../geometry.ts';
import { distanceAfter, speedAfter, timeToRun } from '../movement.ts';
import { sprintPreset } from '../sprint-presets.ts';
import { costsSchema, costValues, keeps, usualCosts } from './costs.ts';
import { dropSchema, usualDrops } from './drop.ts';
import { type Run, runnerSchema, runSchema } from './run.ts';
import { breakRun, pedalRun, routeRun, shuffleRun } from './runs.ts';
import { alongAt, positionAt, speedAt, timeAt, timedPath } from './timed-path.ts';

const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const spot = fc.tuple(
  fc.oneof(within(-60, 60), fc.integer({ min: -5, max: 5 })),
  fc.oneof(within(-60, 120), fc.integer({ min: -5, max: 5 })),
);
const pause = fc.oneof({ weight: 3, arbitrary: fc.constant(0) }, within(0, 5));

/** Whatever `runSchema` takes: legs without length, turns back, moving starts. */
const anyRun: fc.Arbitrary<Run> = fc
  .record({
    from: spot,
    start: fc.oneof(
      fc.record({ kind: fc.constant('still'), delay: pause }),
      fc.record({ kind: fc.constant('moving'), speed: within(0, 14) }),
    ),
    legs: fc.array(
      fc.record({
        to: spot,
        gait: fc.constantFrom('sprint', 'backpedal', 'shuffle'),
        hesitate: pause,
      }),
      { maxLength: 8 },
    ),
    finish: fc.constantFrom('through', 'stop'),
  })
  .map((run) => runSchema.parse(run));
const anyRunner = fc
  .record({ maxSpeed: within(1, 14), tau: within(0.3, 3) })
  .map((runner) => runnerSchema.parse(runner));
const share = within(0, 1);
const anyCosts = fc
  .record({
    braking: within(0.2, 4),
    keeps: fc.tuple(share, share, share).map((three) => three.sort((a, b) => b - a)),
    backpedal: within(0.2, 1),
    shuffle: within(0.2, 1),
    hipTurn: within(0, 1),
  })
  .map(({ keeps: [keepsAt45, keepsAt90, keepsAt180], ...rest }) =>
    costsSchema.parse({ ...rest, keepsAt45, keepsAt90, keepsAt180 }),
  );

const receiver = sprintPreset('college', 'WR');
const runTo = (...points: (readonly [number, number])[]): Run => ({
  from: [0, 0],
  start: { kind: 'still', delay: 0 },
  legs: points.map((to) => ({ to, gait: 'sprint', hesitate: 0 })),
  finish: 'through',
});

const numbersIn = (value: unknown): number[] =>
  typeof value === 'number'
    ? [value]
    : typeof value === 'object' && value !== null
      ? Object.values(value).flatMap(numbersIn)
      : [];

describe('a timed path', () => {
  it('is made of finite numbers, whatever the schemas take', () => {
    fc.assert(
      fc.property(anyRunner, anyRun, anyCosts, within(-1, 60), (runner, run, costs, time) => {
        const path = timedPath(runner, run, costs);
        const numbers = [
          ...numbersIn(path),
          ...positionAt(path, time),
          alongAt(path, time),
          speedAt(path, time),
          timeAt(path, (path.length * (time + 1)) / 61) ?? Number.NaN,
        ];
        expect(numbers.filter((number) => !Number.isFinite(number))).toEqual([]);
      }),
      { numRuns: 300 },
    );
  });

  it('only goes on along its line, never faster than its gait, and its two clocks agree', () => {
    fc.assert(
      fc.property(anyRunner, anyRun, anyCosts, share, (runner, run, costs, part) => {
        const path = timedPath(runner, run, costs);
        const times = Array.from({ length: 41 }, (_, i) => (path.arrives * i) / 40);
        for (const [i, time] of times.entries()) {
          const before = times[Math.max(0, i - 1)] as number;
          const step = alongAt(path, time) - alongAt(path, before);
          expect(step).toBeGreaterThanOrEqual(-1e-9);
          expect(step).toBeLessThanOrEqual(runner.maxSpeed * (time - before) + 1e-9);
          const off = distance(positionAt(path, time), positionAt(path, before));
          expect(off).toBeLessThanOrEqual(step + 1e-6);
        }
        const along = path.length * part;
        const time = timeAt(path, along);
        expect(time === null ? Number.NaN : alongAt(path, time)).toBeCloseTo(along, 6);
        for (const [i, mark] of path.marks.entries()) {
          expect(mark.leaves - mark.arrives).toBeCloseTo(run.legs[i]?.hesitate ?? -1, 9);
          expect(distance(positionAt(path, mark.arrives), mark.at)).toBeLessThan(1e-6);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('never brakes harder than it may, but where he starts too fast', () => {
    fc.assert(
      fc.property(anyRunner, anyRun, anyCosts, (runner, run, costs) => {
        const most = (costs.braking * runner.maxSpeed) / runner.tau;
        const path = timedPath(runner, run, costs);
        for (const { stride, straight } of path.phases) {
          if (stride.kind !== 'brake' || (straight === 0 && run.start.kind === 'moving')) continue;
          expect(stride.rate).toBeLessThanOrEqual(most * (1 + 1e-6) + 1e-6);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('straight ahead is the sprint model itself, his delay before it', () => {
    const path = timedPath(receiver, {
      ...runTo([0, 10], [0, 40]),
      start: { kind: 'still', delay: 0.2 },
    });
    for (const yards of [1, 5, 9.5, 10, 10.5, 25, 40])
      expect(timeAt(path, yards)).toBeCloseTo(0.2 + timeToRun(receiver, yards), 9);
    expect(alongAt(path, 2.2)).toBeCloseTo(distanceAfter(receiver, 2), 9);
    expect(speedAt(path, 2.2)).toBeCloseTo(speedAfter(receiver, 2), 9);
    expect(timeAt(path, 40.01)).toBeNull();
  });

  it('leaves a corner with the share of speed that its angle keeps', () => {
    const along = timeToRun(receiver, 12);
    const path = timedPath(receiver, runTo([0, 12], [12, 12]));
    expect(path.marks[0]?.speed).toBeCloseTo(usualCosts.keepsAt90 * speedAfter(receiver, along), 9);
    expect(speedAt(path, (path.marks[0]?.arrives ?? 0) + 1e-9)).toBeCloseTo(
      path.marks[0]?.speed ?? -1,
      6,
    );
  });

  it('loses more the sharper it cuts', () => {
    const arrival = (angle: number): number => {
      const turn = (angle * Math.PI) / 180;
      return timedPath(receiver, runTo([0, 10], [10 * Math.sin(turn), 10 + 10 * Math.cos(turn)]))
        .arrives;
    };
    const arrivals = [0, 10, 30, 45, 60, 90, 120, 150, 180].map(arrival);
    expect(arrivals).toEqual([...arrivals].sort((a, b) => a - b));
    expect(new Set(arrivals).size).toBe(arrivals.length);
  });

  it('loses exactly the seconds of a hesitation', () => {
    const plain = runTo([0, 6], [6, 6]);
    const [stem, finish] = plain.legs;
    if (!stem || !finish) throw new Error('two legs');
    const slow = { ...plain, legs: [{ ...stem, hesitate: 0.3 }, finish] };
    expect(timedPath(receiver, slow).arrives - timedPath(receiver, plain).arrives).toBeCloseTo(
      0.3,
      12,
    );
  });

  it('stops where a route stops, and runs through where it goes on', () => {
    const route = {
      release: { side: 'free', hesitate: 0.25 },
      stem: [[0, 6]],
      finish: [],
      shape: 'sharp',
      name: 'sit',
    } as const;
    const at = [10, -1] as const;
    const sit = timedPath(receiver, routeRun({ at }, route, receiver.start));
    const on = timedPath(
      receiver,
      routeRun({ at }, { ...route, finish: [[0, 12]] }, receiver.start),
    );
    expect(sit.marks[0]?.speed).toBe(0);
    expect(positionAt(sit, 60)).toEqual([10, 5]);
    expect(timeAt(on, 6)).toBeCloseTo(receiver.start + 0.25 + timeToRun(receiver, 6), 9);
    expect(sit.arrives).toBeGreaterThan(on.marks[0]?.arrives ?? 99);
  });

  it('is slower in the backpedal and the shuffle, and pays for opening the hips', () => {
    const back = sprintPreset('college', 'CB');
    const straight = timedPath(back, breakRun([0, 7], [0, 20], 0.3));
    const pedals = timedPath(back, pedalRun([0, 7], [0, 11], [0, 20], 0.3));
    const free = timedPath(back, pedalRun([0, 7], [0, 11], [0, 20], 0.3), {
      ...usualCosts,
      hipTurn: 0,
    });
    const slides = timedPath(back, shuffleRun([0, 7], [0, 20], 0.3));
    expect(pedals.arrives).toBeGreaterThan(straight.arrives);
    expect(pedals.arrives).toBeGreaterThan(free.arrives);
    expect(pedals.arrives - free.arrives).toBeLessThan(usualCosts.hipTurn);
    expect(slides.arrives).toBeGreaterThan(pedals.arrives);
  });

  it('a defensive back who plants and comes back turns no hips', () => {
    const back = sprintPreset('college', 'CB');
    const run = pedalRun([0, 7], [0, 12], [3, 8], 0.3);
    const path = timedPath(back, run);
    expect(path.phases.some(({ stride }) => stride.kind === 'coast')).toBe(false);
    expect(path.marks[0]?.speed).toBeLessThan(
      usualCosts.keepsAt90 * usualCosts.backpedal * back.maxSpeed,
    );
  });

  it('a man in motion at the snap is ahead of one who stands', () => {
    const run = runTo([0, 10]);
    const moving = timedPath(receiver, { ...run, start: { kind: 'moving', speed: 5 } });
    expect(moving.arrives).toBeLessThan(timedPath(receiver, run).arrives);
    expect(speedAt(moving, 0)).toBe(5);
  });

  it('nobody to go anywhere stays where he is', () => {
    const path = timedPath(receiver, { ...runTo(), start: { kind: 'still', delay: 1 } });
    expect(positionAt(path, 0.5)).toEqual([0, 0]);
    expect([path.length, path.arrives, timeAt(path, 0), timeAt(path, 1)]).toEqual([0, 0, 0, null]);
  });
});

describe('the data', () => {
  it('is inside its bands and its schemas', () => {
    for (const { from, value, to } of Object.values(costValues))
      expect(from <= value && value <= to).toBe(true);
    expect(costsSchema.safeParse(usualCosts).success).toBe(true);
    for (const drop of usualDrops) expect(dropSchema.safeParse(drop).success).toBe(true);
    expect(new Set(usualDrops.map(({ id }) => id)).size).toBe(usualDrops.length);
  });

  it('keeps everything straight on and nothing turning back', () => {
    expect(keeps(usualCosts, 0)).toBe(1);
    expect(keeps(usualCosts, 180)).toBe(0);
    expect(keeps(usualCosts, 45)).toBe(usualCosts.keepsAt45);
    expect(keeps(usualCosts, 90)).toBe(usualCosts.keepsAt90);
  });

  it('refuses a run that is not one, and names the place', () => {
    const bad = runSchema.safeParse({ ...runTo([0, 1]), legs: [{ to: [0, Number.NaN] }] });
    const places = bad.success ? [] : bad.error.issues.map(({ path }) => path.join('.'));
    expect(places).toEqual(['legs.0.to.1', 'legs.0.gait', 'legs.0.hesitate']);
  });
});
