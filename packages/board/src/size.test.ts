import { asPlayerId, handPlay } from '@stemline/testkit/plays';
import { coachAt } from '@stemline/testkit/two-coaches';
import { describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { createBoardState } from './create.ts';
import type { BoardDocument } from './document.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

const H = asPlayerId('H');
const X = asPlayerId('X');
const steps = 10_000;
const bytes = (coach: BoardDocument): number => Y.encodeStateAsUpdate(coach.ydoc).length;

/** Bytes that a board grows by, once for one edit and once for ten thousand. */
function growth(edit: (coach: BoardDocument, i: number) => void): { once: number; often: number } {
  const grown = (count: number): number => {
    const coach = coachAt(createBoardState(handPlay()), 7);
    const before = bytes(coach);
    for (let i = 0; i < count; i++) edit(coach, i);
    return bytes(coach) - before;
  };
  return { once: grown(1), often: grown(steps) };
}

const at = (i: number): readonly [number, number] => [(i % 400) / 10 - 20, -1 - (i % 7) / 10];
const path = (i: number) => Array.from({ length: 6 }, (_, k) => at(i + k));

/**
 * A value that is overwritten leaves a tombstone, and neighbours of one writer merge to one. Where
 * two values take turns they cannot; the last case is there to show what that costs.
 */
describe('what a board weighs after ten thousand edits', () => {
  it.each<[string, (coach: BoardDocument, i: number) => void]>([
    ['moves of one player', (coach, i) => coach.movePlayer(H, at(i))],
    [
      'drawings of one route',
      (coach, i) =>
        coach.setRoute(H, {
          release: { side: 'free', hesitate: 0 },
          stem: path(i),
          finish: [],
          shape: 'sharp',
          name: '',
        }),
    ],
    ['new names of the play', (coach, i) => coach.setName(`Harbour ${i}`)],
  ])('%s: little more than after one', async (_, edit) => {
    const { once, often } = growth(edit);
    expect(once).toBeGreaterThan(0);
    expect(often).toBeLessThan(once * 3 + 64);
  });

  it('moves and their undoing: nor does undo keep what was', () => {
    const { once, often } = growth((coach, i) => {
      coach.movePlayer(H, at(i));
      coach.undo.undo();
    });
    expect(often).toBeLessThan(once * 3 + 64);
  });

  it('moves of two players by turns: about ten bytes a move, and no more', () => {
    const { often } = growth((coach, i) => coach.movePlayer(i % 2 === 0 ? H : X, at(i)));
    expect(often / steps).toBeLessThan(20);
  });

  it('two players in one gesture cost no more than two by turns', () => {
    const { often } = growth((coach, i) =>
      coach.movePlayers([
        { player: H, at: at(i) },
        { player: X, at: at(i + 1) },
      ]),
    );
    expect(often / (2 * steps)).toBeLessThan(20);
  });
});
