import { newDocument } from '@stemline/board/schema';
import { asPlayerId } from '@stemline/testkit/plays';
import * as Y from 'yjs';
import { type Coach, until } from './coach.ts';

const H = asPlayerId('H');
const X = asPlayerId('X');

/** Enough moves of two players by turns for the board to be worth packing. */
export async function wear(coach: Coach, moves = 1_500): Promise<void> {
  for (let i = 0; i < moves; i++) {
    coach.board.movePlayer(i % 2 ? H : X, [-8 - (i % 50) / 10, -1.2]);
    if (i % 100 === 99) await until('saved', () => coach.isSaved, 30_000);
  }
  await until('saved', () => coach.isSaved, 30_000);
}

/** A copy as a browser keeps it, with a client id of its own. */
export function copyOf({ ydoc }: Coach): Y.Doc {
  const copy = newDocument();
  Y.applyUpdate(copy, Y.encodeStateAsUpdate(ydoc));
  return copy;
}
