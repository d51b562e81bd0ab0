import * as Y from 'yjs';
import type { Prisma } from '../../../apps/server/src/database.ts';

/** A board as its whole log says, from the first row on. */
export async function replay(prisma: Prisma, boardId: string): Promise<Y.Doc> {
  const ydoc = new Y.Doc();
  const rows = await prisma.boardUpdate.findMany({
    where: { boardId },
    orderBy: { id: 'asc' },
    select: { bytes: true },
  });
  ydoc.transact(() => {
    for (const { bytes } of rows) Y.applyUpdate(ydoc, bytes);
  });
  if (ydoc.store.pendingStructs !== null || ydoc.store.pendingDs !== null)
    throw new Error('the log builds on an update that is not in it');
  return ydoc;
}

/** How many edits of `vector` are not in the document. */
export function missing(ydoc: Y.Doc, vector: ReadonlyMap<number, number>): number {
  let lost = 0;
  for (const [client, clock] of vector) lost += Math.max(0, clock - Y.getState(ydoc.store, client));
  return lost;
}

/** How many differ from the first. */
export const divergent = (states: readonly Uint8Array[]): number => {
  const [first, ...others] = states;
  return first ? others.filter((state) => !Buffer.from(state).equals(first)).length : 0;
};
