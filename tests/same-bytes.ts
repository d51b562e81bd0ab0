import { expect } from 'vitest';

/**
 * Left to itself `toEqual` walks two byte arrays key by key, a hundred times as slow as comparing them: with
 * boards of some kilobytes that was most of what some tests did. What it says of them stays the same.
 */
const sameBytes = (a: unknown, b: unknown): boolean | undefined =>
  a instanceof Uint8Array && b instanceof Uint8Array && a.constructor === b.constructor
    ? Buffer.compare(a, b) === 0
    : undefined;

// Files of one worker share what is added here, so it is added once a worker.
const added = Symbol.for('stemline.tests.same-bytes');
if (!Object.hasOwn(globalThis, added)) {
  Object.defineProperty(globalThis, added, { value: true });
  expect.addEqualityTesters([sameBytes]);
}
