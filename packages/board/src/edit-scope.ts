import type { Position } from '@stemline/football/play';

/** How much of one board a member may change. */
export type EditScope =
  | { kind: 'none' }
  | { kind: 'all' }
  /** Players of these positions with their routes, motions and cards, and the notes. */
  | { kind: 'positions'; positions: readonly Position[] };
