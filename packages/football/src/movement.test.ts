import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  accelerationAfter,
  distanceAfter,
  type Sprint,
  speedAfter,
  timeToDepth,
  timeToRun,
} from './movement.ts';
import { ruleCodeSchema } from './rulecode.ts';
import { sprintPreset } from './sprint-presets.ts';

const sprint: fc.Arbitrary<Sprint> = fc.record({
  maxSpeed: fc.double({ min: 4, max: 12, noNaN: true }),
  tau: fc.double({ min: 0.4, max: 2, noNaN: true }),
});

describe('the sprint model', () => {
  it('goes both ways: the time to a distance and the distance after a time', () => {
    fc.assert(
      fc.property(sprint, fc.double({ min: 0.001, max: 100, noNaN: true }), (run, d) => {
        expect(distanceAfter(run, timeToRun(run, d))).toBeCloseTo(d, 9);
      }),
    );
  });

  it('speed is the slope of distance, acceleration the slope of speed', () => {
    const h = 1e-5;
    fc.assert(
      fc.property(sprint, fc.double({ min: 0.01, max: 8, noNaN: true }), (run, t) => {
        const slope = (f: (at: number) => number): number => (f(t + h) - f(t - h)) / (2 * h);
        expect(speedAfter(run, t)).toBeCloseTo(
          slope((at) => distanceAfter(run, at)),
          4,
        );
        expect(accelerationAfter(run, t)).toBeCloseTo(
          slope((at) => speedAfter(run, at)),
          4,
        );
      }),
    );
  });

  it('nobody has moved before the start', () => {
    const run = { maxSpeed: 9, tau: 1 };
    expect([distanceAfter(run, -1), speedAfter(run, 0), timeToRun(run, -2)]).toEqual([0, 0, 0]);
  });

  it('a depth is reached after the start and the run', () => {
    const preset = sprintPreset('college', 'WR');
    expect(timeToDepth(preset, 5)).toBeCloseTo(preset.start + timeToRun(preset, 5), 12);
    expect(timeToDepth(preset, 0)).toBe(0);
  });
});

describe('presets', () => {
  it('are faster at each level up, and a receiver outruns a tackle', () => {
    const [highSchool, college, professional] = ruleCodeSchema.options.map((level) =>
      timeToDepth(sprintPreset(level, 'WR'), 10),
    );
    expect(highSchool).toBeGreaterThan(college ?? 0);
    expect(college).toBeGreaterThan(professional ?? 0);
    expect(timeToDepth(sprintPreset('college', 'T'), 10)).toBeGreaterThan(college ?? 0);
  });

  it('say where they come from', () => {
    expect(sprintPreset('highSchool', 'CB').source).toContain('judgement');
  });
});
