import type { Play } from './play.ts';

/** Where everybody stands, and what is played on: all that the defence lines up to. */
export type Formation = Pick<Play, 'players' | 'motions' | 'situation'>;

interface Known<Out> extends Pick<Formation, 'motions' | 'situation'> {
  readonly out: Out;
}

/**
 * What hangs on a formation alone, worked out once for each. Plays are never changed in place, so a
 * formation is known by its parts; an edit of a route or a card leaves them as they were, and what
 * nobody holds any more is forgotten.
 */
export function perFormation<Out>(
  work: (formation: Formation) => Out,
): (formation: Formation) => Out {
  const known = new WeakMap<Formation['players'], Known<Out>>();
  return ({ players, motions, situation }) => {
    const before = known.get(players);
    if (before && before.motions === motions && before.situation === situation) return before.out;
    const out = work({ players, motions, situation });
    known.set(players, { motions, situation, out });
    return out;
  };
}
