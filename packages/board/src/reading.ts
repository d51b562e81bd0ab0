import type * as Y from 'yjs';
import { type ElementKey, elementKey } from './element-key.ts';
import { readElement } from './read-value.ts';
import type { Roots, ValueOf, ValueRoot } from './schema.ts';

export interface Unreadable {
  readonly key: ElementKey;
  readonly why: string;
}

/** The usual case, the same each time. */
const nothingUnreadable: readonly Unreadable[] = Object.freeze([]);

/** The values of one root as they were read, so that a change costs the reading of what it changed. */
export class RootReading<R extends ValueRoot> {
  readonly root: R;
  readonly values = new Map<string, ValueOf<R>>();
  readonly #why = new Map<string, string>();
  readonly #stored: Y.Map<unknown>;
  #version = 0;
  #sorted: readonly string[] | null = null;

  constructor(roots: Roots, root: R) {
    this.root = root;
    this.#stored = roots.maps[root];
    for (const key of this.#stored.keys()) this.touch(key);
  }

  /** Grows with every change: equal versions, equal values. */
  get version(): number {
    return this.#version;
  }

  /** Whether anything stands under a key, readable or not. */
  stands(key: string): boolean {
    return this.values.has(key) || this.#why.has(key);
  }

  get unreadable(): readonly Unreadable[] {
    if (this.#why.size === 0) return nothingUnreadable;
    return [...this.#why].map(([key, why]) => ({ key: elementKey(this.root, key), why }));
  }

  /** Keys whose value can be read, in their order. */
  sortedKeys(): readonly string[] {
    this.#sorted ??= [...this.values.keys()].sort();
    return this.#sorted;
  }

  /** Reads one value again. */
  touch(key: string): void {
    this.#version += 1;
    this.#why.delete(key);
    const reading = this.#stored.has(key)
      ? readElement(this.root, key, this.#stored.get(key))
      : undefined;
    if (this.values.has(key) !== (reading?.ok === true)) this.#sorted = null;
    if (reading?.ok) this.values.set(key, reading.value as ValueOf<R>);
    else this.values.delete(key);
    if (reading?.ok === false) this.#why.set(key, reading.why);
  }
}

/** Gives back what it made last while its inputs are the same. */
export function kept<T>(): (inputs: readonly unknown[], make: (before: T | undefined) => T) => T {
  let last: { inputs: readonly unknown[]; made: T } | undefined;
  return (inputs, make) => {
    const before = last;
    if (before?.inputs.every((input, i) => input === inputs[i])) return before.made;
    const made = make(before?.made);
    last = { inputs, made };
    return made;
  };
}
