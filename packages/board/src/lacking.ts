import * as Y from 'yjs';
import { type Mentions, reachOf } from './mentions.ts';

/** What an update needs of a client id and neither brings nor finds. */
export interface Lack {
  /** The last clock of it. */
  readonly clock: number;
  /** The update goes on under that id itself: of a page's own id nobody else can bring it. */
  readonly isGap: boolean;
}

/** What an update builds on, deletes or leaves out that the document had not before it, by client id. */
export function lacking({ brings, needs }: Mentions, { store }: Y.Doc): ReadonlyMap<number, Lack> {
  const lacks = new Map<number, Lack>();
  for (const [client, last] of needs) {
    const runs = brings.get(client) ?? [];
    const reach = reachOf(Y.getState(store, client), runs);
    if (last < reach) continue;
    const next = runs.findLast(({ from }) => from > reach);
    lacks.set(client, next ? { clock: next.from - 1, isGap: true } : { clock: last, isGap: false });
  }
  return lacks;
}
