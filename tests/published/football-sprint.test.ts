import {
  accelerationAfter,
  distanceAfter,
  type Sprint,
  speedAfter,
  timeToDepth,
  timeToRun,
} from '@stemline/football/movement';
import { sprintPreset } from '@stemline/football/sprint-presets';
import { Solver } from 'odex';
import { describe, expect, it } from 'vitest';

/**
 * d(t) and t(d) of v = V(1 − e^(−t/τ)), V in m/s, distances in yards of 0.9144 m: computed from the
 * formula outside this code to four places. The model: Furusawa, Hill & Parkinson 1927; di Prampero
 * et al. 2005, J Exp Biol 208:2809.
 */
const atSeconds = [0.5, 1, 1.5, 2, 2.5, 3] as const;
const atYards = [5, 6, 10, 12, 15, 18, 20, 40] as const;
const table = [
  {
    V: 9,
    tau: 1,
    yards: [1.0485, 3.6209, 7.1174, 11.1746, 15.5717, 20.1751],
    seconds: [1.2097, 1.3505, 1.8604, 2.0963, 2.4365, 2.7659, 2.9813, 5.0576],
  },
  {
    V: 8.5,
    tau: 1,
    yards: [0.9903, 3.4197, 6.722, 10.5538, 14.7066, 19.0542],
    seconds: [1.2519, 1.3985, 1.9307, 2.1776, 2.5343, 2.8803, 3.1068, 5.2981],
  },
  {
    V: 8,
    tau: 1.1,
    yards: [0.8592, 3.0024, 5.9606, 9.4362, 13.24, 17.2523],
    seconds: [1.3487, 1.506, 2.0764, 2.3406, 2.7219, 3.0912, 3.3328, 5.6656],
  },
  {
    V: 7,
    tau: 1.2,
    yards: [0.6973, 2.4613, 4.9285, 7.8593, 11.0957, 14.5336],
    seconds: [1.5131, 1.6904, 2.3348, 2.6339, 3.0662, 3.4856, 3.7603, 6.4194],
  },
];

describe('the mono-exponential sprint, table of the formula', () => {
  it.each(table)('V $V m/s, tau $tau s', ({ V, tau, yards, seconds }) => {
    const run: Sprint = { maxSpeed: V / 0.9144, tau };
    for (const [i, t] of atSeconds.entries())
      expect(distanceAfter(run, t)).toBeCloseTo(yards[i] ?? 0, 4);
    for (const [i, d] of atYards.entries())
      expect(timeToRun(run, d)).toBeCloseTo(seconds[i] ?? 0, 4);
  });

  it('agrees with an independent integration of dv/dt = (V − v)/τ by the library odex', () => {
    const run: Sprint = { maxSpeed: 9, tau: 1.1 };
    const solver = new Solver(2);
    solver.absoluteTolerance = 1e-12;
    solver.relativeTolerance = 1e-12;
    const slope = (_t: number, [, v = 0]: number[]) => [v, (run.maxSpeed - v) / run.tau];
    for (const t of [0.3, 1, 2.5, 5]) {
      const [d = 0, v = 0] = solver.solve(slope, 0, [0, 0], t).y;
      expect(distanceAfter(run, t)).toBeCloseTo(d, 8);
      expect(speedAfter(run, t)).toBeCloseTo(v, 8);
    }
  });

  it('speed after tau is 63.21 % of the greatest', () => {
    expect(speedAfter({ maxSpeed: 1, tau: 1.3 }, 1.3)).toBeCloseTo(0.6321, 4);
  });
});

/** R package "shorts" 1.1.4, documentation (zenodo 4296844): MSS 7.553185 m/s, TAU 0.706663 s, by least squares on time. */
describe('published fit A', () => {
  const splits = [
    [5, 1.21],
    [10, 1.99],
    [20, 3.38],
    [30, 4.71],
    [35, 5.3],
  ] as const;
  const run: Sprint = { maxSpeed: 7.553185, tau: 0.706663 };
  const squares = (of: Sprint): number =>
    splits.reduce((sum, [d, t]) => sum + (timeToRun(of, d) - t) ** 2, 0);

  it('greatest acceleration 10.68852 m/s² and power 20.1831 W/kg', () => {
    expect(accelerationAfter(run, 0)).toBeCloseTo(10.68852, 4);
    expect((accelerationAfter(run, 0) * run.maxSpeed) / 4).toBeCloseTo(20.1831, 3);
  });

  it('our t(d) has its least squares at the published parameters', () => {
    expect(squares(run)).toBeCloseTo(0.0050895, 7);
    for (const step of [-1e-3, 1e-3]) {
      expect(squares({ ...run, maxSpeed: run.maxSpeed + step })).toBeGreaterThan(squares(run));
      expect(squares({ ...run, tau: run.tau + step })).toBeGreaterThan(squares(run));
    }
  });

  it('times of the fit, computed independently', () => {
    const times = [1.2477, 1.9882, 3.3484, 4.6776, 5.3401];
    for (const [i, [d]] of splits.entries())
      expect(timeToRun(run, d)).toBeCloseTo(times[i] ?? 0, 4);
  });
});

/** R package "shorts", README at commit 5f8ce55 (2024-10-27), athlete "Kimberley": MSS 8.591, TAU 0.811, MAC 10.589. */
describe('published fit B', () => {
  const run: Sprint = { maxSpeed: 8.591143, tau: 0.811329 };

  it('printed times at 5, 10, 15, 20, 30 and 40 m', () => {
    const printed = [
      [5, 1.21],
      [10, 1.9],
      [15, 2.52],
      [20, 3.12],
      [30, 4.3],
      [40, 5.47],
    ] as const;
    for (const [d, t] of printed) expect(timeToRun(run, d)).toBeCloseTo(t, 2);
  });

  it('root mean square error 0.02779 s against the measured splits', () => {
    const measured = [
      [5, 1.158],
      [10, 1.893],
      [15, 2.541],
      [20, 3.149],
      [30, 4.313],
      [40, 5.444],
    ] as const;
    const mean =
      measured.reduce((sum, [d, t]) => sum + (timeToRun(run, d) - t) ** 2, 0) / measured.length;
    expect(Math.sqrt(mean)).toBeCloseTo(0.02779, 4);
  });

  it('printed first rows of distance, speed and acceleration', () => {
    expect(distanceAfter(run, 0.01)).toBeCloseTo(0.001, 3);
    expect(speedAfter(run, 0.01)).toBeCloseTo(0.105, 3);
    expect(accelerationAfter(run, 0.01)).toBeCloseTo(10.46, 2);
    expect(distanceAfter(run, 0.05)).toBeCloseTo(0.013, 3);
    expect(speedAfter(run, 0.05)).toBeCloseTo(0.513, 3);
    expect(accelerationAfter(run, 0.05)).toBeCloseTo(9.96, 2);
  });

  it('acceleration falls under half at 1.35 m, speed passes 95 % at 14.3 m', () => {
    expect(accelerationAfter(run, timeToRun(run, 1.35)) / accelerationAfter(run, 0)).toBeCloseTo(
      0.5,
      2,
    );
    expect(speedAfter(run, timeToRun(run, 14.3)) / run.maxSpeed).toBeCloseTo(0.95, 2);
  });
});

describe('timing of routes', () => {
  it('V 9, tau 1 and 0.2 s to start: 5 and 6 yd by 1.41 and 1.55 s, 12 by 2.30, 15 by 2.64, 18 by 2.97 (computed)', () => {
    const run = { maxSpeed: 9 / 0.9144, tau: 1, start: 0.2 };
    for (const [yards, seconds] of [
      [5, 1.41],
      [6, 1.55],
      [12, 2.3],
      [15, 2.64],
      [18, 2.97],
    ] as const)
      expect(timeToDepth(run, yards)).toBeCloseTo(seconds, 2);
  });

  it('speeds of the professional presets are the fits to the scouting target table reprinted in 2013 (second hand)', () => {
    for (const [position, V] of [
      ['WR', 9.616],
      ['RB', 9.515],
      ['CB', 9.616],
      ['S', 9.472],
      ['T', 7.971],
      ['OLB', 9.228],
    ] as const)
      expect(sprintPreset('professional', position).maxSpeed * 0.9144).toBeCloseTo(V, 3);
  });

  it('college skill men lie inside 8.2 to 9.5 m/s, high-school ones inside 7.5 to 8.8 (from memory)', () => {
    for (const position of ['WR', 'RB', 'CB', 'S', 'TE'] as const) {
      const college = sprintPreset('college', position).maxSpeed * 0.9144;
      const school = sprintPreset('highSchool', position).maxSpeed * 0.9144;
      expect(college).toBeGreaterThanOrEqual(8.2);
      expect(college).toBeLessThanOrEqual(9.5);
      expect(school).toBeGreaterThanOrEqual(7.5);
      expect(school).toBeLessThanOrEqual(8.8);
    }
  });
});
