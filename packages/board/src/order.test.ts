import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { maxOrderLength } from './limits.ts';
import { byOrder, freshOrders, isOrder, type Ordered, place } from './order.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

describe('order', () => {
  it.each([
    '',
    'a',
    'zz',
    'a00',
    '!',
    'é',
    '__proto__',
    'a1-',
    ' a0',
    `a0${'V'.repeat(maxOrderLength)}`,
  ])('%j is no place', (text) => {
    expect(isOrder(text)).toBe(false);
  });

  it('fresh places ascend', () => {
    const orders = freshOrders(2000);
    expect(orders.every(isOrder)).toBe(true);
    expect([...orders].sort()).toEqual(orders);
    expect(new Set(orders).size).toBe(2000);
  });

  it('between any two places that pass as such, the first and last of all included, there is another', () => {
    const largest = 'z'.repeat(27);
    const smallest = `A${'0'.repeat(26)}`;
    const odd = fc
      .oneof(
        fc.stringMatching(/^[A-Za-z][0-9A-Za-z]{1,30}$/),
        fc.constantFrom(
          `${largest}V`,
          `${largest.slice(0, 26)}y`,
          `${smallest}1`,
          `${smallest.slice(0, 26)}1`,
        ),
      )
      .filter(isOrder);
    fc.assert(
      fc.property(
        fc.array(odd, { minLength: 1, maxLength: 3 }),
        fc.nat({ max: 3 }),
        (orders, at) => {
          const items = orders.map((order, i) => ({ id: `i${i}`, order })).sort(byOrder);
          const after = items[at - 1]?.id ?? null;
          const found = place(items, 'x', after);
          const all = [...items, { id: 'x', order: '' }]
            .map(({ id, order }) => ({ id, order: found.get(id) ?? order }))
            .sort(byOrder);
          expect(all.every(({ order }) => isOrder(order))).toBe(true);
          expect(all.map(({ id }) => id)).toEqual(
            items.map(({ id }) => id).toSpliced(after === null ? 0 : at, 0, 'x'),
          );
        },
      ),
    );
  });

  it('whatever is put where, it stands there; equal places and long ones included', () => {
    const start = fc.array(fc.constantFrom(...freshOrders(4)), { maxLength: 6 });
    const step = fc.record({
      id: fc.constantFrom('x', 'y', 'i0', 'i1', 'i2', 'i3'),
      after: fc.option(fc.nat({ max: 8 })),
    });
    fc.assert(
      fc.property(start, fc.array(step, { maxLength: 60, size: 'max' }), (orders, steps) => {
        let items: Ordered[] = orders.map((order, i) => ({ id: `i${i}`, order })).sort(byOrder);
        for (const { id, after } of steps) {
          const rest = items.filter((item) => item.id !== id);
          const before =
            after === null ? null : (rest[after % Math.max(1, rest.length)]?.id ?? null);
          const orders = place(items, id, before);
          items = [...rest, { id, order: '' }]
            .map((item) => ({ id: item.id, order: orders.get(item.id) ?? item.order }))
            .sort(byOrder);
          const at = items.findIndex((item) => item.id === id);
          expect(items[at - 1]?.id ?? null).toBe(before);
          expect(items.filter((item) => item.id !== id).map((item) => item.id)).toEqual(
            rest.map((item) => item.id),
          );
          expect(items.every((item) => isOrder(item.order))).toBe(true);
        }
      }),
    );
  });

  it('ten thousand rows put at one place never need a long key', () => {
    let items: Ordered[] = freshOrders(2).map((order, i) => ({ id: `i${i}`, order }));
    let longest = 0;
    for (let i = 0; i < 10_000; i++) {
      const id = `n${i}`;
      const orders = place(items, id, 'i0');
      items = [...items.slice(0, 1), { id, order: '' }, ...items.slice(1, 3)].map((item) => ({
        id: item.id,
        order: orders.get(item.id) ?? item.order,
      }));
      longest = Math.max(longest, ...items.map((item) => item.order.length));
    }
    expect(longest).toBeLessThan(maxOrderLength);
  });
});
