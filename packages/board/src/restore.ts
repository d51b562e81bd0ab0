import type * as Y from 'yjs';
import { sameJson } from './json.ts';
import { readNotes } from './notes/read.ts';
import { writeNotes } from './notes/write.ts';
import { readElement } from './read-value.ts';
import { mapRoots, rootsOf } from './schema.ts';

/**
 * Makes a board say again what it said in `past`, as a new edit in one transaction: what differs is
 * set anew, what was not there is removed, and nothing is written where both say the same. What the
 * past holds that this build cannot read is left out. Both documents are of this build's version.
 */
export function restoreTo(ydoc: Y.Doc, past: Y.Doc): void {
  const now = rootsOf(ydoc);
  const then = rootsOf(past);
  ydoc.transact(() => {
    for (const root of mapRoots) {
      const [to, from] = [now.maps[root], then.maps[root]];
      for (const key of [...to.keys()]) if (root !== 'meta' && !from.has(key)) to.delete(key);
      for (const [key, value] of from.entries()) {
        if (root === 'meta' && key === 'version') continue;
        if (sameJson(to.get(key), value) || !readElement(root, key, value).ok) continue;
        to.set(key, value);
      }
    }
    const { nodes, problems } = readNotes(then.notes);
    if (problems.length > 0 || sameJson(readNotes(now.notes).nodes, nodes)) return;
    now.notes.delete(0, now.notes.length);
    writeNotes(now.notes, nodes);
  });
}
