import type * as Y from 'yjs';
import { randomFrom } from './statistics.ts';

/** The eleven of the benchmark's board, ids as in testkit/plays. */
const players = ['LT', 'LG', 'C', 'RG', 'RT', 'Y', 'X', 'Z', 'H', 'F', 'Q'];

export interface Gesture {
  player: string;
  at: [number, number];
}

/**
 * Drags of players: a coach works on one for a few gestures, then on another. How long he stays is
 * our guess (one to eight drags); a gesture that alternates between players is the dear kind.
 */
export function* gesturesFrom(seed: number): Generator<Gesture, never> {
  const next = randomFrom(seed);
  for (;;) {
    const player = players[Math.floor(next() * players.length)] ?? 'H';
    for (let left = 1 + Math.floor(next() * 8); left > 0; left--) {
      const at: [number, number] = [
        Math.round((next() * 50 - 25) * 100) / 100,
        -1 - Math.round(next() * 700) / 100,
      ];
      yield { player, at };
    }
  }
}

/** As BoardDocument writes it: one value under one key, one transaction. */
export const write = (ydoc: Y.Doc, { player, at }: Gesture): void => {
  ydoc.getMap('spots').set(player, at);
};

/** As one writes it at first: a map for each player with a key for each number. */
export function writeNaively(ydoc: Y.Doc, { player, at: [x, y] }: Gesture): void {
  const spot = ydoc.getMap(`naive ${player}`);
  ydoc.transact(() => {
    spot.set('x', x);
    spot.set('y', y);
  });
}
