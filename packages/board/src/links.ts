import * as Y from 'yjs';
import { type Fresh, freshOf, type Linked } from './links/fresh.ts';
import { whyImpossible } from './links/view.ts';

/**
 * Why something that a transaction brought is linked as no editor links it; null where nothing is.
 *
 * Yjs puts an item where its links say: behind what stood on its left, before what stood on its right,
 * when it was written. That every replica finds one place for it, in whatever order updates come, rests on
 * links as editors make them. With others the place depends on that order: a board on which nobody
 * sees a change is another one to who comes later, and what has been judged is not what is kept.
 *
 * A value under a key has nothing on its right; then the values of a key are a tree by their left
 * links, brothers by client id, and its order is one whatever comes first. A list needs more (`view.ts`).
 */
export function whyMislinked(transaction: Y.Transaction): string | null {
  for (const fresh of freshOf(transaction)) {
    const inLists: Fresh[] = [];
    for (const one of fresh) {
      const why = whyItem(one);
      if (why !== null) return why;
      if (one.item.parentSub === null) inLists.push(one);
    }
    const why = whyImpossible(inLists);
    if (why !== null) return why;
  }
  return null;
}

function whyItem({ item, left, right }: Fresh): string | null {
  if (left?.run instanceof Y.GC || right?.run instanceof Y.GC)
    return 'it stands beside what is gone for good';
  if (item.parentSub !== null && right !== null) return 'it is a value written before another one';
  return isBeside(left, item) && isBeside(right, item)
    ? null
    : 'it is linked to something that stands elsewhere';
}

function isBeside(link: Linked | null, item: Y.Item): boolean {
  if (link === null) return true;
  const { parent, parentSub } = link.run as Y.Item;
  return parent === item.parent && parentSub === item.parentSub;
}
