import { type ElementKey, parseElementKey } from '@stemline/board/element-key';
import * as Y from 'yjs';
import type { BusMessage } from '../../bus/message.ts';
import type { Commit } from '../board-state.ts';
import type { Author } from '../store.ts';

type CommitMessage = Extract<BusMessage, { kind: 'commit' }>;

function isUpdate(bytes: Uint8Array): boolean {
  try {
    Y.decodeUpdate(bytes);
    return true;
  } catch {
    return false;
  }
}

/** Bytes of a commit that travel over the bus; a larger one is read from the store. */
const maxPayload = 65_536;

export function commitMessage(commit: Commit): { message: CommitMessage; payload: Uint8Array } {
  const { base, revision, last, bytes, updates, clients, authors } = commit;
  return {
    message: {
      kind: 'commit',
      base,
      revision,
      last: String(last),
      updates,
      clients: [...clients],
      authors: [...authors].map(([element, author]) => [
        element,
        author && { ...author, at: author.at.toISOString() },
      ]),
    },
    payload: bytes.byteLength > maxPayload ? new Uint8Array() : bytes,
  };
}

/** Null: it was too large for the bus, or what came over it is no update. */
export function commitFrom(message: CommitMessage, payload: Uint8Array): Commit | null {
  if (payload.byteLength === 0 || !isUpdate(payload)) return null;
  const { base, revision, last, updates, clients, authors } = message;
  return {
    base,
    revision,
    last: BigInt(last),
    bytes: payload,
    updates,
    clients: new Map(clients),
    authors: new Map(
      authors.flatMap(([element, author]): [ElementKey, Author | null][] =>
        parseElementKey(element)
          ? [[element as ElementKey, author && { ...author, at: new Date(author.at) }]]
          : [],
      ),
    ),
  };
}
