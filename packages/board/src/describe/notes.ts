import type { NoteNode } from '../board-play.ts';
import { canonicalJson } from '../canonical.ts';
import { count, list } from './say.ts';

/** "The notes changed: 2 paragraphs added". Blocks are compared as wholes; one reworded is one changed. */
export function describeNotes(before: readonly NoteNode[], after: readonly NoteNode[]): string[] {
  const [old, now] = [before.map(canonicalJson), after.map(canonicalJson)];
  if (old.join() === now.join()) return [];
  const removed = without(old, now);
  const added = without(now, old);
  const reworded = Math.min(removed, added);
  const parts = [
    ...(added > reworded ? [`${count(added - reworded, 'paragraph')} added`] : []),
    ...(reworded > 0 ? [`${count(reworded, 'paragraph')} changed`] : []),
    ...(removed > reworded ? [`${count(removed - reworded, 'paragraph')} removed`] : []),
  ];
  return [`The notes changed: ${parts.length > 0 ? list(parts) : 'the order'}`];
}

/** How many of `items` are not in `others`, one for one. */
function without(items: readonly string[], others: readonly string[]): number {
  const left = [...others];
  return items.filter((item) => {
    const at = left.indexOf(item);
    if (at >= 0) left.splice(at, 1);
    return at < 0;
  }).length;
}
