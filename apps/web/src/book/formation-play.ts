import { playersOf } from '@stemline/football/formation';
import type { Play, Situation, Spot } from '@stemline/football/play';
import type { RuleCode } from '@stemline/football/rulecode';

/** First and ten in the open field: what a formation is shown in before there is a play. */
export const plainSituation = (code: RuleCode, spot: Spot): Situation => ({
  code,
  spot,
  toGoal: 60,
  down: 1,
  toGain: 10,
});

/** A formation alone, as a play with nothing drawn on it. */
export const formationPlay = (
  formation: string,
  situation: Situation,
  strength: 'left' | 'right',
): Play => ({
  name: 'Formation',
  concept: '',
  situation,
  players: playersOf(formation, { strength, situation }),
  routes: {},
  motions: {},
});
