import type * as Y from 'yjs';
import type { ElementKey } from './element-key.ts';
import { sameJson } from './json.ts';
import { readNotes } from './notes/read.ts';
import { writeNotes } from './notes/write.ts';
import { readElement } from './read-value.ts';
import { type MapRoot, mapRoots, notesRoot, rootsOf } from './schema.ts';

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
    restoreNotes(now.notes, then.notes);
  });
}

/** Makes just these elements say what they say in `from`, as a new edit in one transaction. */
export function takeOver(ydoc: Y.Doc, from: Y.Doc, elements: readonly ElementKey[]): void {
  const now = rootsOf(ydoc);
  const then = rootsOf(from);
  ydoc.transact(() => {
    for (const element of elements) {
      if (element === notesRoot) {
        restoreNotes(now.notes, then.notes);
        continue;
      }
      const slash = element.indexOf('/');
      const root = element.slice(0, slash) as MapRoot;
      const key = element.slice(slash + 1);
      const [to, value] = [now.maps[root], then.maps[root].get(key)];
      if (value === undefined) to.delete(key);
      else if (!sameJson(to.get(key), value)) to.set(key, value);
    }
  });
}

/** Blocks that say the same at both ends stay as they are, and with them whoever writes there. */
function restoreNotes(now: Y.XmlFragment, then: Y.XmlFragment): void {
  const { nodes, problems } = readNotes(then);
  const old = readNotes(now).nodes;
  if (problems.length > 0 || sameJson(old, nodes)) return;
  const isBlocks = old.length === now.length && nodes.every(({ type }) => type !== 'text');
  const most = isBlocks ? Math.min(old.length, nodes.length) : 0;
  let before = 0;
  while (before < most && sameJson(old[before], nodes[before])) before += 1;
  let after = 0;
  while (after < most - before && sameJson(old.at(-1 - after), nodes.at(-1 - after))) after += 1;
  now.delete(before, now.length - before - after);
  writeNotes(now, nodes.slice(before, nodes.length - after), before);
}
