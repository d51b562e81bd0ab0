import type { Level } from '@stemline/football/look';
import { distanceAfter, timeToDepth } from '@stemline/football/movement';
import type { Position } from '@stemline/football/play';
import type { RuleCode } from '@stemline/football/rulecode';
import { type SprintPosition, sprintPreset } from '@stemline/football/sprint-presets';

/** Whose sprint a defender of a level has. */
export const runsLike: Readonly<Record<Level, SprintPosition>> = {
  line: 'DE',
  second: 'OLB',
  corner: 'CB',
  deep: 'S',
};

/**
 * From the snap to a defender's first move, who does not know the count: simple visual reaction,
 * mean 0.231 s in 1,469 adults (Woods et al., Front Hum Neurosci 2015;9:131).
 */
export const defenceReacts = 0.231;

/** Seconds after the snap at which a man has run `yards` of his stem, after a hesitation. */
export const secondsToRun = (
  code: RuleCode,
  position: Position,
  yards: number,
  hesitate: number,
): number => (yards <= 0 ? 0 : hesitate + timeToDepth(sprintPreset(code, position), yards));

/** How far a man of the offence has come `seconds` after the snap. Yards. */
export function offenceHasRun(code: RuleCode, position: Position, seconds: number): number {
  const preset = sprintPreset(code, position);
  return distanceAfter(preset, seconds - preset.start);
}

/** How far a defender of a level has come `seconds` after the snap. Yards. */
export const defenderHasRun = (code: RuleCode, level: Level, seconds: number): number =>
  distanceAfter(sprintPreset(code, runsLike[level]), seconds - defenceReacts);
