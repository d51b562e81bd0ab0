import { accelerationAfter, type Sprint, speedAfter, timeToRun } from '@stemline/football/movement';
import { sprintPreset } from '@stemline/football/sprint-presets';
import { metresPerYard, yards } from '@stemline/football/units';
import { describe, expect, it } from 'vitest';

/**
 * Measured men against t(d) of the sprint model. V (m/s) and τ (s) are least-squares fits made outside
 * this code; at them the model has to give the measured times back.
 */
interface Measured {
  readonly who: string;
  readonly fit: Sprint;
  /** Metres and seconds. */
  readonly splits: readonly (readonly [number, number])[];
  /** How far one split may be off, s. */
  readonly within: number;
}
const tenToForty = (...seconds: readonly number[]) =>
  seconds.map((at, i) => [10 * (i + 1), at] as const);

const measured: readonly Measured[] = [
  {
    who: 'college football, n = 61: Brechue, Mayhew & Piper, J Strength Cond Res 2010;24(5):1169',
    fit: { maxSpeed: 8.231, tau: 0.735 },
    splits: [
      [9.1, 1.78],
      [36.6, 5.18],
      [54.9, 7.4],
    ],
    within: 0.01,
  },
  {
    who: 'national-team sprinters, men: Haugen, Breitschädel & Seiler, PLoS ONE 2019',
    fit: { maxSpeed: 9.826, tau: 1.066 },
    splits: tenToForty(1.9, 3.05, 4.09, 5.13),
    within: 0.06,
  },
  {
    who: 'national-team basketball, men: Haugen, Breitschädel & Seiler, PLoS ONE 2019',
    fit: { maxSpeed: 8.479, tau: 1.028 },
    splits: tenToForty(2.06, 3.36, 4.55, 5.74),
    within: 0.06,
  },
  {
    who: 'national-team bandy, men: Haugen, Breitschädel & Seiler, PLoS ONE 2019',
    fit: { maxSpeed: 8.406, tau: 1.046 },
    splits: tenToForty(2.09, 3.39, 4.6, 5.8),
    within: 0.06,
  },
];

describe('measured splits', () => {
  it.each(measured)('$who', ({ fit, splits, within }) => {
    for (const [metres, seconds] of splits)
      expect(Math.abs(timeToRun(fit, metres) - seconds), `${metres} m`).toBeLessThan(within);
    const squares = (one: Sprint): number =>
      splits.reduce((sum, [metres, at]) => sum + (timeToRun(one, metres) - at) ** 2, 0);
    const { maxSpeed, tau } = fit;
    for (const change of [0.99, 1.01]) {
      expect(squares({ maxSpeed: maxSpeed * change, tau })).toBeGreaterThan(squares(fit));
      expect(squares({ maxSpeed, tau: tau * change })).toBeGreaterThan(squares(fit));
    }
  });

  it('sprinters’ greatest speed and acceleration give τ = 1.474 s (di Prampero et al. 2005, n = 12)', () => {
    const sprinter: Sprint = { maxSpeed: 9.46, tau: 9.46 / 6.42 };
    expect(sprinter.tau).toBeCloseTo(1.474, 3);
    expect(accelerationAfter(sprinter, 0)).toBeCloseTo(6.42, 9);
    // They peaked after about five seconds; the model is then within 4 % of it.
    expect(speedAfter(sprinter, 5) / 9.46).toBeGreaterThan(0.96);
  });
});

/** Scouting "targets" reprinted in 2013 (second hand): 10, 20 and 40 yd, with fits made outside this code. */
const targets = [
  ['QB', 1.7, 2.85, 4.9, 8.847, 0.775],
  ['RB', 1.6, 2.6, 4.55, 9.515, 0.705],
  ['WR', 1.6, 2.65, 4.55, 9.616, 0.753],
  ['TE', 1.7, 2.8, 4.85, 8.958, 0.771],
  ['T', 1.8, 3, 5.3, 7.971, 0.713],
  ['G', 1.85, 3.05, 5.3, 8.162, 0.822],
  ['DT', 1.8, 3, 5.15, 8.464, 0.837],
  ['DE', 1.7, 2.8, 4.85, 8.958, 0.771],
  ['ILB', 1.7, 2.75, 4.8, 9.072, 0.766],
  ['OLB', 1.65, 2.7, 4.7, 9.228, 0.738],
  ['CB', 1.6, 2.65, 4.55, 9.616, 0.753],
  ['S', 1.65, 2.6, 4.6, 9.472, 0.729],
] as const;

describe('the scouting target table (reprinted 2013, second hand)', () => {
  it.each(targets)('%s: %d, %d and %d s over 10, 20 and 40 yd', (...row) => {
    const [position, ten, twenty, forty, maxSpeed, tau] = row;
    const times = [10, 20, 40].map((yd) => timeToRun({ maxSpeed, tau }, yd * metresPerYard));
    for (const [i, seconds] of [ten, twenty, forty].entries())
      expect(Math.abs((times[i] as number) - seconds)).toBeLessThan(0.06);
    expect(sprintPreset('professional', position).maxSpeed).toBeCloseTo(yards(maxSpeed), 6);
  });

  it('from the snap nobody runs 40 yd faster than his clocked target, which starts at his first movement', () => {
    for (const [position, , , forty] of targets)
      expect(timeToRun(sprintPreset('professional', position), 40)).toBeGreaterThan(forty);
  });
});

it('college skill men run 40 yd between the hand-held 4.90 and the electronic 5.12 s of one squad (Mann et al. 2015 as reported, n = 81)', () => {
  const skill = (['WR', 'CB', 'S', 'RB', 'OLB'] as const).map((position) =>
    timeToRun(sprintPreset('college', position), 40),
  );
  const mean = skill.reduce((sum, seconds) => sum + seconds, 0) / skill.length;
  expect(mean).toBeGreaterThan(4.9);
  expect(mean).toBeLessThan(5.12);
});
