import type { Play, Situation } from './play.ts';

/** Where everybody stands, and on which part of which field: all that the defence lines up to. */
export interface Formation extends Pick<Play, 'players' | 'motions'> {
  readonly situation: Pick<Situation, 'code' | 'spot' | 'toGoal'>;
}

interface Known<Out> extends Pick<Formation, 'motions' | 'situation'> {
  readonly out: Out;
}

/**
 * What hangs on a formation alone, worked out once for each. Plays are never changed in place, so a
 * formation is known by its parts; an edit of a route, a card or the down leaves them as they were,
 * and what nobody holds any more is forgotten.
 */
export function perFormation<Out>(
  work: (formation: Formation) => Out,
): (formation: Formation) => Out {
  const known = new WeakMap<Formation['players'], Known<Out>>();
  return ({ players, motions, situation }) => {
    const before = known.get(players);
    if (before && isThere(before, motions, situation)) return before.out;
    const out = work({ players, motions, situation });
    known.set(players, { motions, situation, out });
    return out;
  };
}

/** Whether what was worked out for some players was worked out for these motions, on this part of the field. */
export const isThere = (
  before: Pick<Formation, 'motions' | 'situation'>,
  motions: Formation['motions'],
  { code, spot, toGoal }: Formation['situation'],
): boolean =>
  before.motions === motions &&
  before.situation.code === code &&
  before.situation.spot === spot &&
  before.situation.toGoal === toGoal;
