import type * as Y from 'yjs';
import { sameJson } from './json.ts';
import { maxUndoSteps } from './limits.ts';
import type { MapRoot, Roots } from './schema.ts';

/** What one edit did to one value. Tokens name states of the value: equal tokens, same state. */
interface Change {
  readonly root: MapRoot;
  readonly key: string;
  readonly before: Held;
  readonly after: Held;
}
/** `value` undefined: there is none. */
interface Held {
  readonly value: unknown;
  readonly token: number;
}
type Step = readonly Change[];

/** Writes values of the document inside one transaction and keeps what each was before. */
export interface Recorder {
  set(root: MapRoot, key: string, value: unknown): void;
  remove(root: MapRoot, key: string): void;
}

/**
 * Undo for one editor, over everything but the notes (the notes editor has its own, which knows
 * about cursors). A value is taken back only while it is as this editor left it.
 *
 * Yjs' own UndoManager is not used: measured on 13.6.33, it brings a value back that a colleague has
 * deleted since, and after two own edits with a colleague's in between its second step overwrites
 * the colleague's. It also keeps all deleted content alive in the document. history.test.ts has both.
 */
export class EditHistory {
  readonly #ydoc: Y.Doc;
  readonly #roots: Roots;
  readonly #origin: unknown;
  readonly #maxSteps: number;
  #done: Step[] = [];
  #undone: Step[] = [];
  readonly #known = new Map<string, { state: string; token: number }>();
  #lastToken = 0;
  /** Of the edit that is running. */
  #recorder: Recorder | null = null;
  readonly #listeners = new Set<() => void>();

  constructor(ydoc: Y.Doc, roots: Roots, origin: unknown, maxSteps = maxUndoSteps) {
    this.#ydoc = ydoc;
    this.#roots = roots;
    this.#origin = origin;
    this.#maxSteps = maxSteps;
  }

  /**
   * Runs one edit as one transaction and remembers it as one step; an edit that changes nothing is
   * none. What is recorded while an edit runs is part of it.
   */
  record(edit: (recorder: Recorder) => void): void {
    if (this.#recorder) {
      edit(this.#recorder);
      return;
    }
    const changes: Change[] = [];
    this.#recorder = {
      set: (root, key, value) => this.#write(changes, root, key, value),
      remove: (root, key) => this.#write(changes, root, key, undefined),
    };
    try {
      this.#ydoc.transact(() => this.#recorder && edit(this.#recorder), this.#origin);
    } finally {
      this.#recorder = null;
    }
    if (changes.length === 0) return;
    this.#done.push(changes);
    if (this.#done.length > this.#maxSteps) this.#done.shift();
    this.#undone = [];
    this.#changed();
  }

  canUndo = (): boolean => this.#done.length > 0;
  canRedo = (): boolean => this.#undone.length > 0;

  /** Takes back the last step of which anything still stands; false when there is none. */
  undo = (): boolean => this.#move(this.#done, this.#undone, 'before');
  /** Does again what was last taken back; false when there is nothing. */
  redo = (): boolean => this.#move(this.#undone, this.#done, 'after');

  clear = (): void => {
    this.#done = [];
    this.#undone = [];
    this.#changed();
  };

  /** Calls back whenever `canUndo` or `canRedo` may have changed. Gives back how to stop. */
  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  #changed(): void {
    for (const listener of this.#listeners) listener();
  }

  #move(from: Step[], to: Step[], goal: 'before' | 'after'): boolean {
    let moved = false;
    for (
      let step = from.pop();
      step !== undefined && !moved;
      step = moved ? undefined : from.pop()
    ) {
      const mine = step.filter((change) => {
        const expected = goal === 'before' ? change.after : change.before;
        return this.#tokenOf(change.root, change.key) === expected.token;
      });
      if (mine.length === 0) continue;
      this.#ydoc.transact(() => {
        for (const { root, key, [goal]: held } of mine) {
          this.#put(root, key, held.value);
          this.#remember(root, key, held.token);
        }
      }, this.#origin);
      to.push(mine);
      moved = true;
    }
    this.#changed();
    return moved;
  }

  #write(changes: Change[], root: MapRoot, key: string, value: unknown): void {
    const current = this.#roots.maps[root].get(key);
    if (value === undefined ? !this.#roots.maps[root].has(key) : sameJson(current, value)) return;
    const earlier = changes.findIndex((change) => change.root === root && change.key === key);
    const before = changes[earlier]?.before ?? { value: current, token: this.#tokenOf(root, key) };
    this.#put(root, key, value);
    this.#lastToken += 1;
    this.#remember(root, key, this.#lastToken);
    const change = { root, key, before, after: { value, token: this.#lastToken } };
    if (earlier < 0) changes.push(change);
    else changes[earlier] = change;
  }

  #put(root: MapRoot, key: string, value: unknown): void {
    if (value === undefined) this.#roots.maps[root].delete(key);
    else this.#roots.maps[root].set(key, value);
  }

  /** The last write to a key, whoever made it, and whether it still stands. */
  #stateOf(root: MapRoot, key: string): string {
    const item = this.#roots.maps[root]._map.get(key);
    if (item === undefined) return 'never';
    const { client, clock } = item.lastId;
    return `${client}:${clock}:${item.deleted}`;
  }

  #remember(root: MapRoot, key: string, token: number): void {
    this.#known.set(`${root}/${key}`, { state: this.#stateOf(root, key), token });
  }

  /** The token of a value's state as it stands: the known one, or a new one if somebody else wrote it. */
  #tokenOf(root: MapRoot, key: string): number {
    const known = this.#known.get(`${root}/${key}`);
    if (known !== undefined && known.state === this.#stateOf(root, key)) return known.token;
    this.#lastToken += 1;
    this.#remember(root, key, this.#lastToken);
    return this.#lastToken;
  }
}
