import type { DropId } from '@stemline/football/footwork/drop';
import type { Point } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import {
  type Motion,
  type Player,
  type PlayerInfo,
  playerSchema,
  type Route,
  type Situation,
} from '@stemline/football/play';
import type { ProtectionCall } from '@stemline/football/protection';
import type { Branch, BranchId, CardHead, Row, RowId } from '@stemline/read-rules/card';
import { branchSchema, rowSchema } from '@stemline/read-rules/card';
import type { Mend } from '@stemline/read-rules/mends/mend';
import type * as Y from 'yjs';
import { forget, forgetParts, sweep } from './belongings.ts';
import { type CardPart, type Placing, puttingPart } from './card-parts.ts';
import { check, done, type EditResult, refuse } from './edit.ts';
import { branchKey, rowKey } from './element-key.ts';
import { EditHistory, type Recorder } from './history.ts';
import { maxPlayers } from './limits.ts';
import { matchPlayers } from './match-players.ts';
import { makeMend } from './mend.ts';
import { type Projection, Projector } from './project.ts';
import { readValue } from './read-value.ts';
import {
  type MapRoot,
  type MetaKey,
  mapRoots,
  metaSchemas,
  type Roots,
  rootsOf,
  type ValueRoot,
  valueSchemas,
} from './schema.ts';

/**
 * One editor's hand on a board, and the only way to change its document. Every edit is checked
 * first; it is one transaction with this editor's `origin`, and one step of `undo`. An edit that
 * would change nothing writes nothing.
 */
export class BoardDocument {
  readonly ydoc: Y.Doc;
  /** What the notes editor is given; its own undo works on it. */
  readonly notes: Y.XmlFragment;
  /** Marks the transactions of this editor, so that nobody takes back what others did. */
  readonly origin: object = Object.freeze({ editor: 'board' });
  readonly undo: EditHistory;
  readonly #roots: Roots;
  readonly #listeners = new Set<() => void>();
  readonly #projector: Projector;
  /** What has changed since the last snapshot. */
  readonly #touched = new Map<MapRoot, Set<string>>();
  #notesTouched = false;

  constructor(ydoc: Y.Doc) {
    this.ydoc = ydoc;
    this.#roots = rootsOf(ydoc);
    this.notes = this.#roots.notes;
    this.undo = new EditHistory(ydoc, this.#roots, this.origin);
    this.#projector = new Projector(ydoc);
    ydoc.on('afterTransaction', this.#afterTransaction);
  }

  /** Stops listening to the document; the document itself lives on. */
  destroy(): void {
    this.ydoc.off('afterTransaction', this.#afterTransaction);
    this.#listeners.clear();
  }

  /** Calls back after every transaction that changed anything. Gives back how to stop. */
  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  /** The board as it stands: the same object until it changes, and its unchanged parts after that. */
  snapshot = (): Projection => {
    if (this.#touched.size === 0 && !this.#notesTouched) return this.#projector.projection;
    const keys = [...this.#touched].flatMap(([root, touched]) =>
      [...touched].map((key) => [root, key] as const),
    );
    const notes = this.#notesTouched;
    this.#touched.clear();
    this.#notesTouched = false;
    return this.#projector.update({ keys, notes });
  };

  /** Runs several edits as one transaction and one step of `undo`, such as a play mirrored. */
  together<T>(edits: () => T): T {
    const results: T[] = [];
    this.undo.record(() => {
      results.push(edits());
    });
    return results[0] as T;
  }

  setName = (name: string): EditResult => this.#setMeta('name', name);
  setConcept = (concept: string): EditResult => this.#setMeta('concept', concept);
  setSituation = (situation: Situation): EditResult => this.#setMeta('situation', situation);
  /** Null: nothing is called, and whoever stays in blocks. */
  setProtection = (call: ProtectionCall | null): EditResult =>
    call ? this.#setMeta('protection', call) : this.#edit((to) => to.remove('meta', 'protection'));

  /** Null: the passer drops as suits his first man. */
  setDrop = (drop: DropId | null): EditResult =>
    drop ? this.#setMeta('drop', drop) : this.#edit((to) => to.remove('meta', 'drop'));

  addPlayer(player: Player): EditResult {
    const checked = check(playerSchema, player);
    if (!checked.ok) return checked;
    const { id, at, ...info } = checked.value;
    if (this.#has('players', id)) return refuse('taken', `${info.label} is on the board already`);
    if (this.#roots.maps.players.size >= maxPlayers)
      return refuse('tooMany', 'a play has eleven players');
    return this.#edit((to) => {
      forget(to, this.#roots, id);
      to.set('players', id, info);
      to.set('spots', id, at);
    });
  }

  /** Removes a player with everything that is his: spot, route, motion, card, rows and branches. */
  removePlayer(id: PlayerId): EditResult {
    if (!this.#has('players', id)) return unknownPlayer();
    return this.#edit((to) => forget(to, this.#roots, id));
  }

  setPlayerInfo(id: PlayerId, info: PlayerInfo): EditResult {
    if (!this.#has('players', id)) return unknownPlayer();
    return this.#setValue('players', id, info);
  }

  movePlayer = (id: PlayerId, at: Point): EditResult => this.movePlayers([{ player: id, at }]);

  /** Several players at once: one gesture, one step. */
  movePlayers(moves: readonly { readonly player: PlayerId; readonly at: Point }[]): EditResult {
    const checked: { player: PlayerId; at: Point }[] = [];
    for (const { player, at } of moves) {
      if (!this.#has('players', player)) return unknownPlayer();
      const point = check(valueSchemas.spots, at);
      if (!point.ok) return point;
      checked.push({ player, at: point.value });
    }
    return this.#edit((to) => {
      for (const { player, at } of checked) to.set('spots', player, at);
    });
  }

  /**
   * Another formation. Whoever wears a label that was there before keeps his id, and with it his
   * route and card; the others go with all that is theirs. Motions are drawn from where a player
   * stood, so they go too.
   */
  replacePlayers(players: readonly Player[]): EditResult {
    if (players.length > maxPlayers) return refuse('tooMany', 'a play has eleven players');
    const checked = check(playerSchema.array(), players);
    if (!checked.ok) return checked;
    const stored = [...this.#roots.maps.players.keys()].map((id) => {
      const info = readValue('players', this.#roots.maps.players.get(id));
      return { id: id as PlayerId, label: info.ok ? info.value.label : null };
    });
    const { kept, gone } = matchPlayers(stored, checked.value);
    if (new Set(kept.map((player) => player.id)).size < kept.length) {
      return refuse('taken', 'two players have the same id');
    }
    return this.#edit((to) => {
      for (const id of gone) forget(to, this.#roots, id);
      sweep(to, this.#roots, new Set(kept.map((player) => player.id)));
      for (const { id, at, ...info } of kept) {
        to.set('players', id, info);
        to.set('spots', id, at);
        to.remove('motions', id);
      }
    });
  }

  setRoute = (id: PlayerId, route: Route): EditResult => this.#setOfPlayer('routes', id, route);
  clearRoute = (id: PlayerId): EditResult => this.#clearOfPlayer('routes', id);
  setMotion = (id: PlayerId, motion: Motion): EditResult =>
    this.#setOfPlayer('motions', id, motion);
  clearMotion = (id: PlayerId): EditResult => this.#clearOfPlayer('motions', id);

  /** Sets the head of a player's card. A card that was not there begins without rows and branches. */
  setCard(id: PlayerId, head: CardHead): EditResult {
    if (!this.#has('players', id)) return unknownPlayer();
    const checked = check(valueSchemas.cards, head);
    if (!checked.ok) return checked;
    return this.#edit((to) => {
      if (!this.#has('cards', id)) forgetParts(to, this.#roots, id);
      to.set('cards', id, checked.value);
    });
  }

  removeCard(id: PlayerId): EditResult {
    if (!this.#has('cards', id)) return refuse('unknown', 'this player has no read card');
    return this.#edit((to) => {
      to.remove('cards', id);
      forgetParts(to, this.#roots, id);
    });
  }

  putRow(player: PlayerId, row: Row, placing: Placing<RowId> = {}): EditResult {
    const checked = check(rowSchema, row);
    if (!checked.ok) return checked;
    return this.#putPart('rows', player, checked.value, placing);
  }

  moveRow(player: PlayerId, row: RowId, after: RowId | null): EditResult {
    const key = rowKey(player, row);
    const stored = readValue('rows', this.#roots.maps.rows.get(key));
    if (!this.#has('rows', key) || !stored.ok)
      return refuse('unknown', 'this row is not on the card');
    const { order: _, ...value } = stored.value;
    return this.#putPart('rows', player, value, { after });
  }

  removeRow = (player: PlayerId, row: RowId): EditResult =>
    this.#removePart('rows', rowKey(player, row));

  putBranch(player: PlayerId, branch: Branch, placing: Placing<BranchId> = {}): EditResult {
    const checked = check(branchSchema, branch);
    if (!checked.ok) return checked;
    return this.#putPart('branches', player, checked.value, placing);
  }

  removeBranch = (player: PlayerId, branch: BranchId): EditResult =>
    this.#removePart('branches', branchKey(player, branch));

  /** Makes a mend that a finding offers: one transaction, one step of `undo`; all of it or nothing. */
  applyMend = (mend: Mend): EditResult => makeMend(this, mend);

  #has(root: ValueRoot, key: string): boolean {
    return this.#roots.maps[root].has(key);
  }

  #edit(edit: (to: Recorder) => void): EditResult {
    this.undo.record(edit);
    return done;
  }

  #setMeta(key: MetaKey, value: unknown): EditResult {
    const checked = check(metaSchemas[key], value);
    if (!checked.ok) return checked;
    return this.#edit((to) => to.set('meta', key, checked.value));
  }

  #setValue(root: ValueRoot, key: string, value: unknown): EditResult {
    const checked = check(valueSchemas[root], value);
    if (!checked.ok) return checked;
    return this.#edit((to) => to.set(root, key, checked.value));
  }

  #setOfPlayer(root: 'routes' | 'motions', id: PlayerId, value: unknown): EditResult {
    return this.#has('players', id) ? this.#setValue(root, id, value) : unknownPlayer();
  }

  #clearOfPlayer(root: 'routes' | 'motions', id: PlayerId): EditResult {
    return this.#has('players', id) ? this.#edit((to) => to.remove(root, id)) : unknownPlayer();
  }

  #putPart(
    root: CardPart,
    player: PlayerId,
    value: Row | Branch,
    placing: Placing<string>,
  ): EditResult {
    const put = puttingPart(this.#roots, root, player, value, placing);
    return put.ok ? this.#edit(put.write) : put;
  }

  #removePart(root: CardPart, key: string): EditResult {
    if (!this.#has(root, key)) return refuse('unknown', 'this is not on the card');
    return this.#edit((to) => to.remove(root, key));
  }

  #afterTransaction = (transaction: Y.Transaction): void => {
    const changed: ReadonlyMap<unknown, ReadonlySet<string | null>> = transaction.changed;
    const parents: ReadonlyMap<unknown, unknown> = transaction.changedParentTypes;
    for (const root of mapRoots) {
      const touched = this.#touched.get(root) ?? new Set();
      for (const key of changed.get(this.#roots.maps[root]) ?? []) {
        if (key !== null) this.#touched.set(root, touched.add(key));
      }
    }
    if (parents.has(this.notes)) this.#notesTouched = true;
    if (changed.size > 0) for (const listener of this.#listeners) listener();
  };
}

const unknownPlayer = (): EditResult => refuse('unknown', 'this player is not on the board');
