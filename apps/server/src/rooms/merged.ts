import * as Y from 'yjs';

/** Yjs looks through all that is still unread for every struct: with many at once that grows with their square. */
const mergedAtOnce = 16;

/** Many updates as one, in time that grows with their bytes. */
export function merged(updates: readonly Uint8Array[]): Uint8Array {
  let rest = [...updates];
  while (rest.length > 1) {
    const next: Uint8Array[] = [];
    for (let i = 0; i < rest.length; i += mergedAtOnce)
      next.push(Y.mergeUpdates(rest.slice(i, i + mergedAtOnce)));
    rest = next;
  }
  const [only] = rest;
  if (!only) throw new RangeError('there is nothing to merge');
  return only;
}
