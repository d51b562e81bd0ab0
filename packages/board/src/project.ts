import type { PlayerId } from '@stemline/football/ids';
import type { Motion, Player, PlayerInfo, Route, Situation } from '@stemline/football/play';
import type { CardHead, ReadCard } from '@stemline/read-rules/card';
import type * as Y from 'yjs';
import type { BoardPlay, NoteNode } from './board-play.ts';
import { type ElementKey, elementKey, nameOf } from './element-key.ts';
import { deepFreeze, sameJson } from './json.ts';
import { maxBranchesOfCard, maxPlayers, maxRowsOfCard } from './limits.ts';
import { readNotes } from './notes/read.ts';
import { PartReading } from './parts.ts';
import { readMeta } from './read-value.ts';
import { kept, RootReading, type Unreadable } from './reading.ts';
import { type MapRoot, type Roots, rootsOf, type ValueOf } from './schema.ts';
import { shareList, shareObject } from './share.ts';

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

/** What a transaction has changed: keys by root, and whether the notes. */
export interface Touched {
  readonly keys: Iterable<readonly [root: MapRoot, key: string]>;
  readonly notes: boolean;
}

/** Reads the whole document once. What reads as it did in `previous` keeps its identity. */
export const project = (ydoc: Y.Doc, previous?: Projection): Projection =>
  new Projector(ydoc, previous).projection;

/** Stands where a board's own situation cannot be read. */
const plainSituation: Situation = deepFreeze({
  code: 'college',
  spot: 'middle',
  toGoal: 50,
  down: 1,
  toGain: 10,
});
const plainName = 'Play without a name';

/** Something shown, with what had to be left out of it. */
interface Shown<T> {
  readonly value: T;
  readonly unreadable: readonly Unreadable[];
  readonly orphans: readonly ElementKey[];
}
type OfPlayers<T> = Record<PlayerId, T>;

/**
 * Keeps the projection of one document. Told what a transaction changed, it reads that again and
 * puts together again what hangs on it; must give what reading everything would (project.test.ts).
 */
export class Projector {
  readonly #roots: Roots;
  readonly #players;
  readonly #spots;
  readonly #routes;
  readonly #motions;
  readonly #cards;
  readonly #rows;
  readonly #branches;
  #metaVersion = 0;
  readonly #keep = {
    meta: kept<ReturnType<typeof showMeta>>(),
    players: kept<ShownPlayers>(),
    ids: kept<ReadonlySet<string>>(),
    routes: kept<Shown<OfPlayers<Route>>>(),
    motions: kept<Shown<OfPlayers<Motion>>>(),
    heads: kept<Shown<OfPlayers<CardHead>>>(),
    cards: kept<Shown<readonly ReadCard[]>>(),
  };
  #notes: Shown<readonly NoteNode[]> | undefined;
  #projection: Projection;

  constructor(ydoc: Y.Doc, previous?: Projection) {
    const roots = rootsOf(ydoc);
    this.#roots = roots;
    this.#players = new RootReading(roots, 'players');
    this.#spots = new RootReading(roots, 'spots');
    this.#routes = new RootReading(roots, 'routes');
    this.#motions = new RootReading(roots, 'motions');
    this.#cards = new RootReading(roots, 'cards');
    this.#rows = new PartReading(roots, 'rows', maxRowsOfCard);
    this.#branches = new PartReading(roots, 'branches', maxBranchesOfCard);
    this.#projection = this.#assemble(previous, true);
  }

  get projection(): Projection {
    return this.#projection;
  }

  update({ keys, notes }: Touched): Projection {
    for (const [root, key] of keys) {
      if (root === 'meta') this.#metaVersion += 1;
      else this.#reading(root).touch(key);
    }
    this.#projection = this.#assemble(this.#projection, notes);
    return this.#projection;
  }

  #reading(root: Exclude<MapRoot, 'meta'>): { touch(key: string): void } {
    const readings = {
      players: this.#players,
      spots: this.#spots,
      routes: this.#routes,
      motions: this.#motions,
      cards: this.#cards,
      rows: this.#rows,
      branches: this.#branches,
    };
    return readings[root];
  }

  #assemble(previous: Projection | undefined, notesChanged: boolean): Projection {
    const old = previous?.board;
    const keep = this.#keep;
    const [players, spots] = [this.#players, this.#spots];
    const shown = keep.players([players.version, spots.version], (before) =>
      showPlayers(players, spots, before ?? { value: old?.play.players }),
    );
    const ids = keep.ids([shown.value], () => new Set(shown.value.map((player) => player.id)));
    const routes = keep.routes([this.#routes.version, ids], () =>
      ofPlayers(this.#routes, ids, old?.play.routes),
    );
    const motions = keep.motions([this.#motions.version, ids], () =>
      ofPlayers(this.#motions, ids, old?.play.motions),
    );
    const heads = keep.heads([this.#cards.version, ids], (before) =>
      ofPlayers(this.#cards, ids, before?.value),
    );
    const [rows, branches] = [this.#rows, this.#branches];
    const cards = keep.cards([heads.value, rows.version, branches.version], () =>
      showCards(heads.value, rows, branches, old?.play.cards),
    );
    const meta = keep.meta([this.#metaVersion], () => showMeta(this.#roots.maps.meta));
    if (notesChanged || this.#notes === undefined) {
      this.#notes = showNotes(this.#roots.notes, old?.notes);
    }
    const notes = this.#notes;
    const all: readonly Shown<unknown>[] = [meta, shown, routes, motions, heads, cards, notes];
    const unread = [players, spots, this.#routes, this.#motions, this.#cards, rows, branches];
    const play = shareObject(old?.play, {
      name: meta.value.name,
      concept: meta.value.concept,
      situation: meta.value.situation,
      players: shown.value,
      routes: routes.value,
      motions: motions.value,
      cards: cards.value,
      ...(meta.value.protection ? { protection: meta.value.protection } : {}),
      ...(meta.value.drop ? { drop: meta.value.drop } : {}),
    });
    return shareObject(previous, {
      board: shareObject(old, { play, notes: notes.value }),
      unreadable: gathered(
        previous?.unreadable,
        [...all, ...unread].map((each) => each.unreadable),
        byKey,
      ),
      orphans: gathered(
        previous?.orphans,
        all.map((each) => each.orphans),
      ),
      version: meta.value.version,
    });
  }
}

const byKey = (a: Unreadable, b: Unreadable): number => (a.key < b.key ? -1 : 1);
/** Usually there is nothing, and the nothing of before serves. */
function gathered<T>(
  old: readonly T[] | undefined,
  lists: readonly (readonly T[])[],
  order?: (a: T, b: T) => number,
): readonly T[] {
  if (old?.length === 0 && lists.every((list) => list.length === 0)) return old;
  return sameOr(old, lists.flat().sort(order));
}
const sameOr = <T>(old: T | undefined, next: T): T =>
  old !== undefined && sameJson(old, next) ? old : deepFreeze(next);

function showMeta(stored: Y.Map<unknown>) {
  const read = {
    version: readMeta('version', stored.get('version')),
    name: readMeta('name', stored.get('name')),
    concept: readMeta('concept', stored.get('concept')),
    situation: readMeta('situation', stored.get('situation')),
    ...(stored.has('protection')
      ? { protection: readMeta('protection', stored.get('protection')) }
      : {}),
    ...(stored.has('drop') ? { drop: readMeta('drop', stored.get('drop')) } : {}),
  };
  const { version, name, concept, situation, protection, drop } = read;
  const unreadable: Unreadable[] = [];
  // Before the first word of the server nothing is missing: there is nothing yet.
  if (stored.size > 0) {
    for (const [key, value] of Object.entries(read)) {
      if (!value.ok) unreadable.push({ key: elementKey('meta', key), why: value.why });
    }
    for (const key of stored.keys()) {
      if (nameOf('meta', key) === null) {
        unreadable.push({
          key: elementKey('meta', key),
          why: 'no element of a board has this name',
        });
      }
    }
  }
  return {
    value: {
      version: version.ok ? version.value : null,
      name: name.ok ? name.value : plainName,
      concept: concept.ok ? concept.value : '',
      situation: situation.ok ? situation.value : plainSituation,
      protection: protection?.ok ? protection.value : null,
      drop: drop?.ok ? drop.value : null,
    },
    unreadable,
    orphans: [],
  };
}

/** A player is made of two values; as long as both stand, so does he. */
interface ShownPlayers extends Shown<readonly Player[]> {
  /** What each was made of, beside his place. */
  readonly infos: readonly PlayerInfo[];
}

function showPlayers(
  infos: RootReading<'players'>,
  spots: RootReading<'spots'>,
  before: { value: readonly Player[] | undefined; infos?: ShownPlayers['infos'] },
): ShownPlayers {
  const players: Player[] = [];
  const made: PlayerInfo[] = [];
  const unreadable: Unreadable[] = [];
  for (const id of infos.sortedKeys()) {
    const info = infos.values.get(id);
    const at = spots.values.get(id);
    if (info === undefined) continue;
    if (at === undefined) {
      const why = spots.stands(id)
        ? 'his place on the field cannot be read'
        : 'he has no place on the field';
      unreadable.push({ key: elementKey('players', id), why });
    } else if (players.length === maxPlayers) {
      const why = `there are ${maxPlayers} players already; remove one`;
      unreadable.push({ key: elementKey('players', id), why });
    } else {
      const known = before.value?.[players.length];
      const stands = known?.id === id && known.at === at && before.infos?.[players.length] === info;
      players.push(stands ? known : assembled(info, id as PlayerId, at, before.value));
      made.push(info);
    }
  }
  const orphans: ElementKey[] = [];
  for (const id of spots.values.keys())
    if (!infos.stands(id)) orphans.push(elementKey('spots', id));
  return { value: shareList(before.value, players), infos: made, unreadable, orphans };
}

const assembled = (
  info: PlayerInfo,
  id: PlayerId,
  at: Player['at'],
  before: readonly Player[] | undefined,
): Player =>
  shareObject(
    before?.find((player) => player.id === id),
    { ...info, id, at },
  );

/** Those values whose player is on the board. */
function ofPlayers<R extends 'routes' | 'motions' | 'cards'>(
  reading: RootReading<R>,
  ids: ReadonlySet<string>,
  before: OfPlayers<ValueOf<R>> | undefined,
): Shown<OfPlayers<ValueOf<R>>> {
  const shown: Record<string, ValueOf<R>> = {};
  const orphans: ElementKey[] = [];
  for (const id of reading.sortedKeys()) {
    const value = reading.values.get(id);
    if (value === undefined) continue;
    if (ids.has(id)) shown[id] = value;
    else orphans.push(elementKey(reading.root, id));
  }
  return { value: shareObject(before, shown), unreadable: [], orphans };
}

function showCards(
  heads: OfPlayers<CardHead>,
  rows: PartReading<'rows'>,
  branches: PartReading<'branches'>,
  before: readonly ReadCard[] | undefined,
): Shown<readonly ReadCard[]> {
  const cards = Object.entries<CardHead>(heads).map(([id, head]) => {
    const player = id as PlayerId;
    const old = before?.find((card) => card.player === player);
    return shareObject(old, {
      player,
      head,
      rows: shareList(old?.rows, rows.of(player)),
      branches: shareList(old?.branches, branches.of(player)),
    });
  });
  return {
    value: shareList(before, cards),
    unreadable: [...rows.tooMany(heads), ...branches.tooMany(heads)],
    orphans: [...rows.orphans(heads), ...branches.orphans(heads)],
  };
}

function showNotes(
  notes: Y.XmlFragment,
  before: readonly NoteNode[] | undefined,
): Shown<readonly NoteNode[]> {
  const { nodes, problems } = readNotes(notes);
  const value = shareList(
    before,
    nodes.map((node, i) => sameOr(before?.[i], node)),
  );
  const unreadable: Unreadable[] =
    problems.length === 0 ? [] : [{ key: 'notes', why: problems.join('; ') }];
  return { value, unreadable, orphans: [] };
}
