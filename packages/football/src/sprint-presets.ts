import type { Sprint } from './movement.ts';
import type { Position } from './play.ts';
import type { RuleCode } from './rulecode.ts';

/** Yards in a metre; a yard is 0.9144 m exactly. */
export const yardsPerMetre = 1 / 0.9144;

/** Positions that sprint norms tell apart, on both sides of the ball. */
export type SprintPosition = Position | 'DT' | 'DE' | 'ILB' | 'OLB' | 'CB' | 'S';

/** How a man of one level and position runs. A staff may put its own numbers in its place. */
export interface SprintPreset extends Sprint {
  readonly level: RuleCode;
  readonly position: SprintPosition;
  /** V in yards per second. */
  readonly maxSpeed: number;
  /** Seconds from the snap to his first movement. */
  readonly start: number;
  readonly source: string;
}

/** Metres per second: least-squares fits to 10, 20 and 40 yd splits of a scouting target table reprinted in 2013 (second hand). */
const professionalSpeed: Readonly<Record<SprintPosition, number>> = {
  QB: 8.847,
  RB: 9.515,
  WR: 9.616,
  TE: 8.958,
  T: 7.971,
  G: 8.162,
  C: 8.162,
  DT: 8.464,
  DE: 8.958,
  ILB: 9.072,
  OLB: 9.228,
  CB: 9.616,
  S: 9.472,
};

/**
 * Share of that speed at a level. Judgement, from memory: with it a wide receiver is at 9.2 m/s in
 * college and 8.6 m/s in high school, inside the usual ranges of 8.2 to 9.5 and 7.5 to 8.8.
 */
const share: Readonly<Record<RuleCode, number>> = {
  professional: 1,
  college: 0.96,
  highSchool: 0.89,
};

/**
 * About 1 s across sports and levels (Clark & Ryan 2022, second hand). The fits above give 0.75 s
 * because a combine clock starts on the first movement; from a snap 1 s is nearer.
 */
const tau = 1;

/** From the snap to the first step of a man who knows the count. Judgement; simple reaction is 0.23 s (Woods et al. 2015). */
const start = 0.2;

export function sprintPreset(level: RuleCode, position: SprintPosition): SprintPreset {
  const speed = professionalSpeed[position] * share[level];
  return {
    level,
    position,
    maxSpeed: speed * yardsPerMetre,
    tau,
    start,
    source:
      level === 'professional'
        ? 'fit to a scouting target table, 2013 (second hand); tau Clark & Ryan 2022'
        : `${share[level] * 100} % of the professional speed: judgement; tau Clark & Ryan 2022`,
  };
}
