import * as Y from 'yjs';
import { type Projection, Projector } from './project.ts';
import { type MapRoot, mapRoots, newDocument, type Roots, rootsOf } from './schema.ts';

/**
 * The document on which updates are tried before anybody else sees them. It holds what has been
 * accepted; after a refusal it also holds what was refused, and must be rebuilt before the next trial.
 * Nothing observes it: an observer that throws would break a trial half-way.
 */
export class Shadow {
  #ydoc: Y.Doc;
  #roots: Roots;
  #values: Record<MapRoot, Map<string, unknown>>;
  #projector: Projector;
  #clean = true;

  /** `state`: everything accepted so far, as one update. */
  constructor(state: Uint8Array) {
    ({ ydoc: this.#ydoc, roots: this.#roots } = open(state));
    this.#values = valuesOf(this.#roots);
    this.#projector = new Projector(this.#ydoc);
  }

  get ydoc(): Y.Doc {
    return this.#ydoc;
  }
  get roots(): Roots {
    return this.#roots;
  }
  /** The board as last accepted. */
  get projection(): Projection {
    return this.#projector.projection;
  }
  /** False after a refusal that had to try the update: `rebuild` comes next. */
  get clean(): boolean {
    return this.#clean;
  }

  /** The value as accepted; undefined: there is none. */
  accepted(root: MapRoot, key: string): unknown {
    return this.#values[root].get(key);
  }

  /** Begins a trial: from here until `accept` or `rebuild` the document is ahead of what is accepted. */
  soil(): void {
    if (!this.#clean)
      throw new Error('This shadow holds a refused update: rebuild it before the next trial.');
    this.#clean = false;
  }

  /** Ends a trial well. `changed`: the values it changed. */
  accept(changed: readonly { root: MapRoot; key: string }[], notesChanged: boolean): Projection {
    for (const { root, key } of changed) {
      const stored = this.#roots.maps[root];
      if (stored.has(key)) this.#values[root].set(key, stored.get(key));
      else this.#values[root].delete(key);
    }
    this.#clean = true;
    if (changed.length === 0 && !notesChanged) return this.#projector.projection;
    return this.#projector.update({
      keys: changed.map(({ root, key }) => [root, key] as const),
      notes: notesChanged,
    });
  }

  /** Forgets whatever was tried and stands on the accepted state again. */
  rebuild(state: Uint8Array): void {
    this.#ydoc.destroy();
    ({ ydoc: this.#ydoc, roots: this.#roots } = open(state));
    this.#values = valuesOf(this.#roots);
    this.#projector = new Projector(this.#ydoc, this.#projector.projection);
    this.#clean = true;
  }

  destroy(): void {
    this.#ydoc.destroy();
  }
}

function open(state: Uint8Array): { ydoc: Y.Doc; roots: Roots } {
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, state);
  return { ydoc, roots: rootsOf(ydoc) };
}

function valuesOf(roots: Roots): Record<MapRoot, Map<string, unknown>> {
  const entries = mapRoots.map((root) => [root, new Map(roots.maps[root].entries())]);
  return Object.fromEntries(entries) as Record<MapRoot, Map<string, unknown>>;
}
