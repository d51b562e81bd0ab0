import type { PlayerId } from '../ids.ts';

/** What a rule book, or the drawing, has against a play. */
export interface Illegality {
  /** Which rule, the same from one check to the next. */
  readonly rule: string;
  /** A foul is flagged at the snap; a caution takes a receiver away, or is put right before the snap. */
  readonly weight: 'foul' | 'caution';
  /** In an official's words. */
  readonly says: string;
  readonly players: readonly PlayerId[];
  /** What of theirs is against the rule; left out where it is where they stand, or who they are. */
  readonly of?: 'route' | 'motion';
  /** Book and section, and how surely it is known. */
  readonly source: string;
}
