import type { OnCard } from './findings/on-card.ts';
import type { OnPlay } from './findings/on-play.ts';
import type { RuledPlay } from './ruled-play.ts';

/** What a part of the check is given to look at. */
export type Input = { readonly play: RuledPlay } | OnPlay | OnCard;

/**
 * Runs one part of the check, by name, on its input. A check at one go simply runs it; a re-check
 * gives back what it came to before, where nothing that the part has looked at is different.
 */
export type Keep = <On extends Input, Out>(part: string, on: On, work: (on: On) => Out) => Out;

/** Keeps nothing. */
export const afresh: Keep = (_part, on, work) => work(on);
