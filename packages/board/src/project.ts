import type { PlayerId } from '@stemline/football/ids';
import type { Player, PlayerInfo, Situation } from '@stemline/football/play';
import type { Branch, CardHead, ReadCard, Row } from '@stemline/read-rules/card';
import type * as Y from 'yjs';
import type { BoardPlay, NoteNode } from './board-play.ts';
import { type ElementKey, elementKey, nameOf } from './element-key.ts';
import { deepFreeze, sameJson } from './json.ts';
import { maxBranchesOfCard, maxPlayers, maxRowsOfCard } from './limits.ts';
import { readNotes } from './notes/read.ts';
import { byOrder } from './order.ts';
import { readElement, readMeta } from './read-value.ts';
import {
  type BranchValue,
  type Roots,
  type RowValue,
  rootsOf,
  type ValueOf,
  type ValueRoot,
} from './schema.ts';
import { shareList, shareObject } from './share.ts';

export interface Unreadable {
  readonly key: ElementKey;
  readonly why: string;
}

/** What a document says, frozen. Parts that did not change keep their identity from one to the next. */
export interface Projection {
  readonly board: BoardPlay;
  /** Elements that cannot be shown, each with the reason; the rest of the board is alive. */
  readonly unreadable: readonly Unreadable[];
  /**
   * What is left of players and cards that are gone: a colleague moved a player while he was being
   * removed. Quietly left out; it comes back if the player does.
   */
  readonly orphans: readonly ElementKey[];
  /** The shape the document was written in; null while nothing has come from the server yet. */
  readonly version: number | null;
}

/** Stands where a board's own situation cannot be read. */
const plainSituation: Situation = deepFreeze({
  code: 'college',
  spot: 'middle',
  toGoal: 50,
  down: 1,
  toGain: 10,
});
const plainName = 'Play without a name';

type Values<R extends ValueRoot> = ReadonlyMap<string, ValueOf<R>>;

interface Reading {
  readonly unreadable: Unreadable[];
  readonly orphans: ElementKey[];
}

/**
 * Reads the whole document. `previous` is the projection before it, for sharing; `notesChanged`
 * may be false only if the notes are as they were then.
 */
export function project(ydoc: Y.Doc, previous?: Projection, notesChanged = true): Projection {
  const roots = rootsOf(ydoc);
  const reading: Reading = { unreadable: [], orphans: [] };
  const old = previous?.board;
  const meta = projectMeta(roots, reading);
  const players = projectPlayers(roots, reading);
  const ids = new Set<string>(players.map((player) => player.id));
  const cards = projectCards(roots, ids, old?.play.cards ?? [], reading);
  const play = shareObject(old?.play, {
    name: meta.name,
    concept: meta.concept,
    situation: meta.situation,
    players: shareList(old?.play.players, players),
    routes: shareObject(
      old?.play.routes,
      ofPlayers(readAll(roots, 'routes', reading), ids, 'routes', reading),
    ),
    motions: shareObject(
      old?.play.motions,
      ofPlayers(readAll(roots, 'motions', reading), ids, 'motions', reading),
    ),
    cards: shareList(old?.play.cards, cards),
  });
  const notes = projectNotes(roots, reading, previous, notesChanged);
  const projection = {
    board: shareObject(old, { play, notes }),
    unreadable: sameOr(previous?.unreadable, reading.unreadable.sort(byKey)),
    orphans: shareList(previous?.orphans, reading.orphans.sort()),
    version: meta.version,
  };
  return shareObject(previous, projection);
}

const byKey = (a: Unreadable, b: Unreadable): number => (a.key < b.key ? -1 : 1);
const sameOr = <T>(old: T | undefined, next: T): T =>
  old !== undefined && sameJson(old, next) ? old : deepFreeze(next);

function projectMeta(roots: Roots, reading: Reading) {
  const stored = roots.maps.meta;
  const version = readMeta('version', stored.get('version'));
  const name = readMeta('name', stored.get('name'));
  const concept = readMeta('concept', stored.get('concept'));
  const situation = readMeta('situation', stored.get('situation'));
  // Before the first word of the server nothing is missing: there is nothing yet.
  if (stored.size > 0) {
    const read = { version, name, concept, situation };
    for (const [key, value] of Object.entries(read)) {
      if (!value.ok) reading.unreadable.push({ key: elementKey('meta', key), why: value.why });
    }
    for (const key of stored.keys()) {
      if (nameOf('meta', key) === null) {
        reading.unreadable.push({
          key: elementKey('meta', key),
          why: 'no element of a board has this name',
        });
      }
    }
  }
  return {
    version: version.ok ? version.value : null,
    name: name.ok ? name.value : plainName,
    concept: concept.ok ? concept.value : '',
    situation: situation.ok ? situation.value : plainSituation,
  };
}

/** Every value of a root that can be read, in the order of its keys. */
function readAll<R extends ValueRoot>(roots: Roots, root: R, reading: Reading): Values<R> {
  const values = new Map<string, ValueOf<R>>();
  const stored = roots.maps[root];
  for (const key of [...stored.keys()].sort()) {
    const element = readElement(root, key, stored.get(key));
    if (element.ok) values.set(key, element.value as ValueOf<R>);
    else reading.unreadable.push({ key: elementKey(root, key), why: element.why });
  }
  return values;
}

/** A player is made of two values; as long as both stand, so does he. */
const assembled = new WeakMap<PlayerInfo, Player>();

function projectPlayers(roots: Roots, reading: Reading): Player[] {
  const infos = readAll(roots, 'players', reading);
  const spots = readAll(roots, 'spots', reading);
  const players: Player[] = [];
  for (const [id, info] of infos) {
    const at = spots.get(id);
    if (at === undefined) {
      const why = roots.maps.spots.has(id)
        ? 'his place on the field cannot be read'
        : 'he has no place on the field';
      reading.unreadable.push({ key: elementKey('players', id), why });
    } else if (players.length === maxPlayers) {
      const why = `there are ${maxPlayers} players already; remove one`;
      reading.unreadable.push({ key: elementKey('players', id), why });
    } else {
      const known = assembled.get(info);
      const player =
        known?.at === at && known.id === id
          ? known
          : Object.freeze({ ...info, id: id as PlayerId, at });
      assembled.set(info, player);
      players.push(player);
    }
  }
  for (const id of spots.keys())
    if (!roots.maps.players.has(id)) reading.orphans.push(elementKey('spots', id));
  return players;
}

/** Those values whose player is on the board. */
function ofPlayers<R extends 'routes' | 'motions' | 'cards'>(
  values: Values<R>,
  ids: ReadonlySet<string>,
  root: R,
  reading: Reading,
): Record<PlayerId, ValueOf<R>> {
  const kept: Record<string, ValueOf<R>> = {};
  for (const [id, value] of values) {
    if (ids.has(id)) kept[id] = value;
    else reading.orphans.push(elementKey(root, id));
  }
  return kept;
}

function projectCards(
  roots: Roots,
  ids: ReadonlySet<string>,
  old: readonly ReadCard[],
  reading: Reading,
): ReadCard[] {
  const heads = ofPlayers(readAll(roots, 'cards', reading), ids, 'cards', reading);
  const rows = partsOf(readAll(roots, 'rows', reading), heads, 'rows', maxRowsOfCard, reading);
  const branches = partsOf(
    readAll(roots, 'branches', reading),
    heads,
    'branches',
    maxBranchesOfCard,
    reading,
  );
  return Object.entries<CardHead>(heads).map(([id, head]) => {
    const before = old.find((card) => card.player === id);
    return shareObject(before, {
      player: id as PlayerId,
      head,
      rows: shareList(before?.rows, (rows.get(id) ?? []).map(rowOf)),
      branches: shareList(before?.branches, (branches.get(id) ?? []).map(branchOf)),
    });
  });
}

/** Rows or branches by player, sorted; those of a card that is gone are orphans. */
function partsOf<R extends 'rows' | 'branches'>(
  values: Values<R>,
  heads: Readonly<Record<string, CardHead>>,
  root: R,
  max: number,
  reading: Reading,
): Map<string, ValueOf<R>[]> {
  const parts = new Map<string, ValueOf<R>[]>();
  for (const [key, value] of values) {
    const player = key.slice(0, key.indexOf('.'));
    if (!Object.hasOwn(heads, player)) {
      reading.orphans.push(elementKey(root, key));
    } else {
      const list = parts.get(player);
      if (list === undefined) parts.set(player, [value]);
      else list.push(value);
    }
  }
  for (const [player, list] of parts) {
    list.sort(byOrder);
    for (const extra of list.splice(max)) {
      reading.unreadable.push({
        key: elementKey(root, `${player}.${extra.id}`),
        why: `a card holds at most ${max} ${root}`,
      });
    }
  }
  return parts;
}

const rowsWithoutOrder = new WeakMap<RowValue, Row>();
function rowOf(value: RowValue): Row {
  const known = rowsWithoutOrder.get(value);
  if (known !== undefined) return known;
  const { order: _, ...row } = value;
  rowsWithoutOrder.set(value, Object.freeze(row));
  return row;
}

const branchesWithoutOrder = new WeakMap<BranchValue, Branch>();
function branchOf(value: BranchValue): Branch {
  const known = branchesWithoutOrder.get(value);
  if (known !== undefined) return known;
  const { order: _, ...branch } = value;
  branchesWithoutOrder.set(value, Object.freeze(branch));
  return branch;
}

function projectNotes(
  roots: Roots,
  reading: Reading,
  previous: Projection | undefined,
  notesChanged: boolean,
): readonly NoteNode[] {
  if (!notesChanged && previous !== undefined) {
    reading.unreadable.push(...previous.unreadable.filter((each) => each.key === 'notes'));
    return previous.board.notes;
  }
  const { nodes, problems } = readNotes(roots.notes);
  if (problems.length > 0) reading.unreadable.push({ key: 'notes', why: problems.join('; ') });
  const old = previous?.board.notes;
  return shareList(
    old,
    nodes.map((node, i) => sameOr(old?.[i], node)),
  );
}
