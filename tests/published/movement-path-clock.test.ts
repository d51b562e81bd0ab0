import { usualDrops } from '@stemline/football/footwork/drop';
import { choiceTime, simpleReaction, unpractised } from '@stemline/football/footwork/reaction';
import { breakRun, routeRun } from '@stemline/football/footwork/runs';
import { alongAt, timeAt, timedPath } from '@stemline/football/footwork/timed-path';
import { yards } from '@stemline/football/units';
import { describe, expect, it } from 'vitest';

/** d(t) and t(d) of the mono-exponential sprint, exact: V in m/s, τ in s, distances in yards. */
const table = [
  {
    speed: 9,
    tau: 1,
    after: [1.0485, 3.6209, 7.1174, 11.1746, 15.5717, 20.1751],
    at: [1.2097, 1.3505, 1.8604, 2.0963, 2.4365, 2.7659, 2.9813, 5.0576],
  },
  {
    speed: 8.5,
    tau: 1,
    after: [0.9903, 3.4197, 6.722, 10.5538, 14.7066, 19.0542],
    at: [1.2519, 1.3985, 1.9307, 2.1776, 2.5343, 2.8803, 3.1068, 5.2981],
  },
  {
    speed: 8,
    tau: 1.1,
    after: [0.8592, 3.0024, 5.9606, 9.4362, 13.24, 17.2523],
    at: [1.3487, 1.506, 2.0764, 2.3406, 2.7219, 3.0912, 3.3328, 5.6656],
  },
  {
    speed: 7,
    tau: 1.2,
    after: [0.6973, 2.4613, 4.9285, 7.8593, 11.0957, 14.5336],
    at: [1.5131, 1.6904, 2.3348, 2.6339, 3.0662, 3.4856, 3.7603, 6.4194],
  },
];
const times = [0.5, 1, 1.5, 2, 2.5, 3];
const marks = [5, 6, 10, 12, 15, 18, 20, 40];

describe('a straight path keeps the time of the sprint model (di Prampero et al. 2005)', () => {
  it.each(table)('V $speed m/s, τ $tau s', ({ speed, tau, after, at }) => {
    const path = timedPath({ maxSpeed: yards(speed), tau }, breakRun([0, 0], [0, 60], 0));
    for (const [i, time] of times.entries())
      expect(alongAt(path, time)).toBeCloseTo(after[i] as number, 4);
    for (const [i, mark] of marks.entries())
      expect(timeAt(path, mark)).toBeCloseTo(at[i] as number, 4);
  });
});

describe('a receiver and the passer’s footwork', () => {
  /** V 9.0 m/s, τ 1.0 s, 0.2 s to his first step. */
  const receiver = { maxSpeed: yards(9), tau: 1 };
  const at = (depth: number): number => {
    const route = {
      release: { side: 'free', hesitate: 0 },
      stem: [[0, depth]],
      finish: [[0, depth + 5]],
      shape: 'sharp',
      name: '',
    } as const;
    return timeAt(timedPath(receiver, routeRun({ at: [0, 0] }, route, 0.2)), depth) ?? Number.NaN;
  };
  const ballOut = (id: string) => usualDrops.find((drop) => drop.id === id)?.ballOut;

  it.each([
    // Common practice, no single source: the ball leaves as the break is made, or just before.
    [5, 1.41, 'gun-catch-and-throw'],
    [6, 1.55, 'gun-catch-and-throw'],
    [12, 2.3, 'gun-three-step'],
    [15, 2.64, 'gun-three-step-hitch'],
    [18, 2.97, 'gun-five-step'],
  ])('is %d yd deep by %d s, while a %s is out', (depth, time, drop) => {
    const window = ballOut(drop);
    expect(Math.abs(at(depth) - time)).toBeLessThan(0.01);
    expect(at(depth)).toBeGreaterThanOrEqual(window?.from ?? Number.NaN);
    expect(at(depth)).toBeLessThanOrEqual(window?.to ?? Number.NaN);
  });
});

describe('reaction times', () => {
  it.each([
    // Hick's law with a = 0.200 s and b = 0.150 s a bit: worked values.
    [1, 0.2],
    [2, 0.35],
    [3, 0.4377],
    [4, 0.5],
    [6, 0.5877],
    [8, 0.65],
  ])('of %d equally likely choices: %d s', (choices, seconds) => {
    expect(choiceTime(unpractised, choices)).toBeCloseTo(seconds, 4);
  });

  it('of one is 0.231 s (Woods et al. 2015)', () => {
    expect(simpleReaction.value).toBe(0.231);
  });
});
