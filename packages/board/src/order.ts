import { generateKeyBetween, generateNKeysBetween } from 'fractional-indexing';
import { maxOrderLength } from './limits.ts';

/** Past this, or at either end of all orders, the whole card is spaced afresh. */
const comfortableLength = 40;

export function isOrder(text: string): boolean {
  if (text.length > maxOrderLength || !/^[A-Za-z][0-9A-Za-z]+$/.test(text)) return false;
  try {
    generateKeyBetween(text, null);
    generateKeyBetween(null, text);
    return true;
  } catch {
    // The library tells a bad key by throwing; there is nothing more to know.
    return false;
  }
}

/** Keys for `count` things in a row. */
export const freshOrders = (count: number): string[] => generateNKeysBetween(null, null, count);

export interface Ordered {
  readonly id: string;
  readonly order: string;
}

/** Two coaches may have put a row at the same place: then the id decides, the same way everywhere. */
export function byOrder(a: Ordered, b: Ordered): number {
  if (a.order !== b.order) return a.order < b.order ? -1 : 1;
  return a.id < b.id ? -1 : a.id > b.id ? 1 : 0;
}

/**
 * Where `id` has to stand to come right after `after` (null: first). Usually that is one new order
 * for `id`; where two orders are equal or have grown long, it names new orders for others as well.
 */
export function place(
  sorted: readonly Ordered[],
  id: string,
  after: string | null,
): ReadonlyMap<string, string> {
  const others = sorted.filter((item) => item.id !== id);
  const at = after === null ? 0 : others.findIndex((item) => item.id === after) + 1;
  const before = others[at - 1]?.order ?? null;
  const next = others[at]?.order ?? null;
  if (before === null || next === null || before < next) {
    const order = generateKeyBetween(before, next);
    if (order.length <= comfortableLength && isOrder(order)) return new Map([[id, order]]);
  }
  const ids = others.map((item) => item.id);
  ids.splice(at, 0, id);
  const orders = freshOrders(ids.length);
  return new Map(ids.map((each, i) => [each, orders[i] ?? '']));
}
