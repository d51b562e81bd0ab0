import { formationRules } from './legality/formation-rules.ts';
import type { Illegality } from './legality/illegality.ts';
import { snapFormation } from './legality/line.ts';
import { motionRules } from './legality/motion-rules.ts';
import { routeRules } from './legality/route-rules.ts';
import type { Play } from './play.ts';

export type { Illegality } from './legality/illegality.ts';

/**
 * Everything the play's rule code has against it as it is snapped; empty for a legal play. Fewer
 * than eleven is no foul in itself. Kicks and reported changes of position are not considered.
 */
export function legality(play: Play): readonly Illegality[] {
  const formation = snapFormation(play);
  return [
    ...formationRules.flatMap((rule) => rule(formation)),
    ...motionRules(play),
    ...routeRules(play),
  ];
}
