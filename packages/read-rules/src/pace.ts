import { distanceAfter, type Sprint, timeToRun } from '@stemline/football/movement';

const metres = (m: number): number => m / 0.9144;

/**
 * A skill player from rest: V 9.0 m/s, τ 1.0 s. With it a receiver is at 5 to 6 yd 1.4 to 1.55 s
 * after the snap, which is when quick throws leave the hand (common practice, no single source).
 */
const skillPlayer: Sprint = { maxSpeed: metres(9), tau: 1 };

/** From the snap to an offensive player's first move, who knows the count. Seconds. */
const offenceReacts = 0.2;

/**
 * From the snap to a defender's first move: simple visual reaction, mean 0.231 s in 1,469 adults
 * (Woods et al., Front Hum Neurosci 2015;9:131).
 */
const defenceReacts = 0.231;

/** Seconds after the snap at which a receiver has run `yards` of his stem, after a hesitation. */
export const secondsToRun = (yards: number, hesitate: number): number =>
  yards <= 0 ? 0 : offenceReacts + hesitate + timeToRun(skillPlayer, yards);

/** How far a receiver has come `seconds` after the snap. Yards. */
export const offenceHasRun = (seconds: number): number =>
  distanceAfter(skillPlayer, seconds - offenceReacts);

/** How far a defender has come `seconds` after the snap. Yards. */
export const defenderHasRun = (seconds: number): number =>
  distanceAfter(skillPlayer, seconds - defenceReacts);
