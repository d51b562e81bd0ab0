import * as Y from 'yjs';
import type { Fresh, Linked } from './fresh.ts';

/**
 * Why one client's new items in lists cannot have been written where their links say; null where they can.
 *
 * An editor puts an item between two that stand side by side on his board. What he had on it he never
 * says, but he had at least what his links name and what he wrote before, and with each of these what
 * it was linked to and what its writer had written before. If anything of that stands between the two
 * there is no board on which they stood side by side. If nothing does there is one, this client
 * may have had it, and it is a case that Yjs settles alike everywhere.
 *
 * `fresh`: one client's, in the order of writing, none of them linked to another list.
 */
export function whyImpossible(fresh: readonly Fresh[]): string | null {
  const views = new Map<unknown, View>();
  for (const one of withSomethingBetween(fresh)) {
    const { item, from, left, right } = one;
    const list = item.parent as Y.AbstractType<unknown>;
    const view = views.get(list) ?? new View(list);
    views.set(list, view);
    view.has(Y.createID(item.id.client, from - 1));
    for (const link of [left, right]) if (link) view.has(link.id);
    const why = whyNotIn(view, list, one);
    if (why !== null) return why;
  }
  return null;
}

const surrounds = 'it surrounds what its writer knew';

function whyNotIn(
  view: View,
  list: Y.AbstractType<unknown>,
  { item, left, right }: Fresh,
): string | null {
  // A link may name a piece in the middle of a run: the rest of the run stands between.
  if (left && left.run !== item && !endsIn(left)) {
    const { client, clock } = left.id;
    if (view.includes(Y.createID(client, clock + 1))) return surrounds;
  }
  let at = left ? (left.run as Y.Item).right : list._start;
  for (; at !== null && at !== right?.run; at = at.right)
    if (at !== item && view.includes(at.id)) return surrounds;
  if (right === null) return null;
  if (at === null) return 'it stands after what it was written before';
  return beginsIn(right) ? null : surrounds;
}

const endsIn = ({ id, run }: Linked): boolean => run.id.clock + run.length - 1 === id.clock;
const beginsIn = ({ id, run }: Linked): boolean => run.id.clock === id.clock;

/** Those between whose neighbours something else stands than what the same client wrote later. */
function withSomethingBetween(fresh: readonly Fresh[]): Fresh[] {
  const between: Fresh[] = [];
  /** With nothing else between them. */
  const others = new Map<Y.Item, Fresh>();
  for (const one of fresh.toReversed()) {
    const { item, left, right } = one;
    const isNext =
      left?.run === item || (item.left === (left?.run ?? null) && (!left || endsIn(left)));
    const next = item.right && others.get(item.right);
    const isBefore = next
      ? Y.compareIDs(next.right?.id ?? null, right?.id ?? null)
      : item.right === (right?.run ?? null) && (!right || beginsIn(right));
    if (isNext && isBefore) others.set(item, one);
    else between.push(one);
  }
  return between.toReversed();
}

/** What of a list one client must have had: of each client everything up to a clock. */
class View {
  readonly #list: Y.AbstractType<unknown>;
  readonly #upTo = new Map<number, number>();
  #runs: ReadonlyMap<number, readonly Y.Item[]> | null = null;

  constructor(list: Y.AbstractType<unknown>) {
    this.#list = list;
  }

  includes({ client, clock }: Y.ID): boolean {
    return clock <= (this.#upTo.get(client) ?? -1);
  }

  /** He had this, and so all that whoever wrote it had. */
  has(piece: Y.ID): void {
    const due = [piece];
    for (let next = due.pop(); next; next = due.pop()) {
      const { client, clock } = next;
      const known = this.#upTo.get(client) ?? -1;
      if (clock <= known) continue;
      this.#upTo.set(client, clock);
      for (const { id, origin, rightOrigin } of this.#runsOf(client)) {
        if (id.clock > clock) break;
        if (id.clock <= known) continue;
        for (const link of [origin, rightOrigin]) if (link) due.push(link);
      }
    }
  }

  #runsOf(client: number): readonly Y.Item[] {
    this.#runs ??= runsOf(this.#list);
    return this.#runs.get(client) ?? [];
  }
}

/** The runs of a list by who wrote them, each in the order of writing. */
function runsOf(list: Y.AbstractType<unknown>): Map<number, Y.Item[]> {
  const runs = new Map<number, Y.Item[]>();
  for (let item = list._start; item !== null; item = item.right) {
    const { client } = item.id;
    const his = runs.get(client);
    if (his) his.push(item);
    else runs.set(client, [item]);
  }
  for (const his of runs.values()) his.sort((a, b) => a.id.clock - b.id.clock);
  return runs;
}
