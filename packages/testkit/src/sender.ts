import type { BoardDocument } from '@stemline/board/document';
import type * as Y from 'yjs';
import { coachAt } from './two-coaches.ts';

/** A coach and everything he sends, update by update. */
export function sender(
  client: number,
  from: Uint8Array,
): { coach: BoardDocument; sent: Uint8Array[] } {
  const coach = coachAt(from, client);
  const sent: Uint8Array[] = [];
  coach.ydoc.on('update', (update: Uint8Array) => sent.push(update));
  return { coach, sent };
}

/** The one update that `write` makes on a document opened from `from`, under a client id. */
export function updateOf(
  write: (ydoc: Y.Doc) => void,
  client: number,
  from: Uint8Array,
): Uint8Array {
  const { coach, sent } = sender(client, from);
  // Set again: Yjs changes an id that it sees in use, which is what a forger would undo.
  coach.ydoc.clientID = client;
  coach.ydoc.transact(() => write(coach.ydoc));
  const [update] = sent;
  if (update === undefined) throw new Error('nothing was written');
  return update;
}
