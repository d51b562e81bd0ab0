import type { RuleCode } from '../rulecode.ts';
import type { Sourced } from '../sourced.ts';
import { milesPerHour, yards } from '../units.ts';
import { standardBall } from './ball.ts';
import type { Throw } from './throw.ts';

/** What is known of passers at one level; speeds of the ball in yd/s. All of it for a staff to edit. */
export interface Passer {
  /** A ball driven on a line. */
  readonly drive: Sourced;
  /** A ball thrown softer, over a defender. */
  readonly touch: Sourced;
}

const milesAnHour = (
  from: number,
  value: number,
  to: number,
  rest: Pick<Sourced, 'provenance' | 'source'>,
): Sourced => ({
  from: milesPerHour(from),
  value: milesPerHour(value),
  to: milesPerHour(to),
  unit: 'yd/s',
  ...rest,
});

const commonTouch = milesAnHour(35, 40, 45, {
  provenance: 'commonPractice',
  source: 'Touch throws 35–45 mph; common practice, from memory, no single source',
});

export const passers: Readonly<Record<RuleCode, Passer>> = {
  highSchool: {
    drive: milesAnHour(38, 44, 48, {
      provenance: 'memory',
      source: 'High school 38–48 mph; common practice, from memory, no single source',
    }),
    touch: milesAnHour(32, 37, 40, {
      provenance: 'judgement',
      source: 'Ours: the common 35–45 mph scaled to high-school arms',
    }),
  },
  college: {
    drive: milesAnHour(45, 48, 55, {
      provenance: 'memory',
      source:
        'Driven 45–55 mph; 26 high-school and college passers about 47 mph (Fleisig et al., J Appl Biomech 1996;12:207, number from memory)',
    }),
    touch: commonTouch,
  },
  professional: {
    drive: milesAnHour(42, 53.7, 60, {
      provenance: 'secondHand',
      source: 'Combine passing speeds 2008–2016, n = 111: mean 53.7 mph, range 42–60 (second hand)',
    }),
    touch: commonTouch,
  },
};

/** yd above the ground. */
export const releaseHeight: Sourced = {
  from: yards(1.9),
  value: yards(2),
  to: yards(2.2),
  unit: 'yd',
  provenance: 'memory',
  source: 'About ear height and reach, 1.9–2.2 m; from memory',
};

/** yd above the ground. */
export const catchHeight: Sourced = {
  from: yards(1.2),
  value: yards(1.5),
  to: yards(1.8),
  unit: 'yd',
  provenance: 'commonPractice',
  source: 'At the chest, 1.2–1.8 m; common practice, no single source',
};

/** From the start of the throwing motion until the ball leaves the hand, s. */
export const releaseTime: Sourced = {
  from: 0.35,
  value: 0.42,
  to: 0.5,
  unit: 's',
  provenance: 'memory',
  source: 'Whole throwing motion 0.35–0.50 s; from memory',
};

/** A usual throw at a level: standard ball, release and catch where they mostly are. */
export function usualThrow(level: RuleCode, kind: 'drive' | 'touch', distance: number): Throw {
  return {
    distance,
    releaseHeight: releaseHeight.value,
    catchHeight: catchHeight.value,
    delivery: { kind, speed: passers[level][kind].value },
    ball: standardBall,
  };
}
