import * as Y from 'yjs';

/**
 * Bounds the work that one update can make of itself. Yjs puts an item in by stepping over all that was
 * written in its place, and makes a cut by copying what stands behind it. Of honest edits that is nothing;
 * an update made for it keeps a processor busy with the square of its length (60 kB: ten seconds), and
 * so does it to every browser that takes it in. Yjs counts none of that, so its two steps are counted here.
 */

/** An update that would take more work than any edit makes. */
export class TooMuchWork extends Error {}

/** Steps left to the update that is being taken in; null: none is, and nothing is counted. */
let left: number | null = null;
/** Steps of one cut beside what it copies: a list of so many structs is moved for it. */
let cutting = 0;

/** What a step costs, in steps over a neighbour (some 300 ns). */
const structsMovedInOne = 1_000;
const valuesCopiedInOne = 20;
const charactersCopiedInOne = 1_000;

/** Runs `act`; throws TooMuchWork when Yjs does more than `steps` in it. `structs`: how many come in. */
export function withinWork<T>(steps: number, structs: number, act: () => T): T {
  left = steps;
  cutting = 1 + structs / structsMovedInOne;
  try {
    return act();
  } finally {
    left = null;
  }
}

function spend(steps: number): void {
  if (left === null) return;
  left -= steps;
  if (left < 0) throw new TooMuchWork('it would take more work than any edit makes');
}

/** Steps over everything that stands between an item's two neighbours, as Yjs does to find its place. */
function stepOver(item: Y.Item): void {
  const parent = item.parent as Y.AbstractType<unknown> | null;
  if (parent === null) return;
  let at: Y.Item | null;
  if (item.left !== null) at = item.left.right;
  else if (item.parentSub === null) at = parent._start;
  else {
    at = parent._map.get(item.parentSub) ?? null;
    for (; at?.left; at = at.left) spend(1);
  }
  for (; at !== null && at !== item.right; at = at.right) spend(1);
}

const { integrate } = Y.Item.prototype;
Y.Item.prototype.integrate = function (transaction, offset) {
  if (left !== null) stepOver(this);
  integrate.call(this, transaction, offset);
};

/** What a cut of a run, or putting two together, copies, in steps. */
function countCopies<C extends { splice(offset: number): unknown; mergeWith(right: C): boolean }>(
  { prototype }: { prototype: C },
  steps: (content: C) => number,
): void {
  const { splice, mergeWith } = prototype;
  prototype.splice = function (this: C, offset) {
    spend(cutting + steps(this));
    return splice.call(this, offset);
  };
  prototype.mergeWith = function (this: C, right) {
    spend(steps(this) + steps(right));
    return mergeWith.call(this, right);
  };
}
countCopies(Y.ContentAny, ({ arr }) => arr.length / valuesCopiedInOne);
countCopies(Y.ContentJSON, ({ arr }) => arr.length / valuesCopiedInOne);
countCopies(Y.ContentString, ({ str }) => str.length / charactersCopiedInOne);
countCopies(Y.ContentDeleted, () => 0);
