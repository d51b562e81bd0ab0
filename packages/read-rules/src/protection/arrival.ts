import { distance, type Point } from '@stemline/football/geometry';
import type { Defender } from '@stemline/football/look';
import { timeToRun } from '@stemline/football/movement';
import type { RuleCode } from '@stemline/football/rulecode';
import { sprintPreset } from '@stemline/football/sprint-presets';
import { defenceReacts, runsLike } from '../pace.ts';

/**
 * Seconds from the snap until a rusher whom nobody blocks is where the passer throws from: he reacts
 * to the ball and sprints there straight. Blockers whom he has to get round are not counted, so he is
 * never later than he would be; that he is there, and not a yard short, keeps him from being early.
 */
export const arrival = (code: RuleCode, { level, at }: Defender, spot: Point): number =>
  defenceReacts + timeToRun(sprintPreset(code, runsLike[level]), distance(at, spot));
