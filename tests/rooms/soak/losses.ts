import * as Y from 'yjs';
import type { Editor } from './editor.ts';
import type { Home } from './home.ts';
import { divergent, missing, replay } from './replay.ts';
import { awaitState } from './wait.ts';

/** What must not have happened to a crew of honest editors. */
export interface Losses {
  /** Checked after every fault, before anybody came back. */
  acknowledged: number;
  acknowledgedLost: number;
  /** Edits that were not acknowledged when it happened, and are not there at the end of the cycle. */
  heldLost: number;
  divergent: number;
  /** Honest coaches turned away, or their edits refused. */
  turnedAway: number;
}

export const noLosses = (): Losses => ({
  acknowledged: 0,
  acknowledgedLost: 0,
  heldLost: 0,
  divergent: 0,
  turnedAway: 0,
});

const sum = (vector: ReadonlyMap<number, number>): number =>
  [...vector.values()].reduce((total, clock) => total + clock, 0);

export const rest = (crew: readonly Editor[]): Promise<unknown> =>
  Promise.all(crew.map((editor) => editor.stop()));

/** Everything anybody was told is saved must be in the log as it lies there. */
export async function lookAtStore(
  home: Home,
  board: string,
  crew: readonly Editor[],
  counts: Losses,
): Promise<void> {
  const told = crew.map(({ saved }) => new Map(saved));
  const stored = await replay(home.prisma, board);
  for (const vector of told) counts.acknowledgedLost += missing(stored, vector);
  counts.acknowledged += Math.max(...told.map(sum));
}

/** Everybody is back: all is saved, and everybody and the log hold the same. */
export async function settle(
  home: Home,
  board: string,
  crew: readonly Editor[],
  counts: Losses,
): Promise<void> {
  const held = crew.map(({ ydoc }) => Y.decodeStateVector(Y.encodeStateVector(ydoc)));
  await awaitState('everything is saved', () =>
    crew.every((editor) => editor.synced && editor.isSaved),
  );
  const equal = (): boolean => divergent(crew.map(({ state }) => state)) === 0;
  await awaitState('everybody sees the same', equal, 10_000).catch(() => undefined);
  const stored = await replay(home.prisma, board);
  for (const vector of held) counts.heldLost += missing(stored, vector);
  counts.divergent += divergent([Y.encodeStateAsUpdate(stored), ...crew.map(({ state }) => state)]);
}
