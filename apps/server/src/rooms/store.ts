import type { ElementKey } from '@stemline/board/element-key';
import type { LookRecipe } from '@stemline/football/shelf';
import type { LiveFinding } from '@stemline/protocol/message';

/** Who last set an element. */
export interface Author {
  memberId: string | null;
  name: string;
  at: Date;
}

/** What the book shows of a board. */
export interface BookLine {
  name: string;
  concept: string;
  formation: string;
}

/** A board as it is stored. */
export interface StoredBoard {
  staffId: string;
  /** Of the log; `updates` may be later than it, never earlier. */
  revision: number;
  /** How often it was packed, as of the snapshot. */
  packings: number;
  /** Who made it, and when: the author of whatever nobody has set since. */
  maker: Author;
  line: BookLine;
  snapshot: StoredSnapshot | null;
  /** Later than the snapshot, in order. */
  updates: readonly StoredUpdate[];
  /** Member by client id. */
  clients: ReadonlyMap<number, string>;
  authors: ReadonlyMap<ElementKey, Author>;
}

export interface StoredUpdate {
  id: bigint;
  bytes: Uint8Array;
}

interface StoredSnapshot extends StoredUpdate {
  /** State vector up to which old values are packed away; null: all of them are in it. */
  packed: Uint8Array | null;
}

/** A board with every old value that was ever packed away. */
export interface StoredWhole {
  revision: number;
  snapshot: StoredUpdate | null;
  /** Later than the snapshot, in order. */
  updates: readonly StoredUpdate[];
  /** What was written on a board as it was before a packing, and is on this one in other words. */
  rebased: readonly Uint8Array[];
}

/** A board packed: beside it stands the same board whole. */
export interface BoardPacking {
  boardId: string;
  /** The revision it was packed at: with another one in the store nothing is written. */
  base: number;
  upTo: bigint;
  whole: Uint8Array;
  packed: Uint8Array;
  /** Of both. */
  stateVector: Uint8Array;
}

/** What one commit adds to one board. */
export interface BoardAppend {
  boardId: string;
  /** The revision it was judged on: with another one in the store nothing is written. */
  base: number;
  updates: readonly {
    bytes: Uint8Array;
    memberId: string | null;
    at: Date;
    /** What the member wrote on the board as it was before a packing, when this says what it came to. */
    rebased: Uint8Array | null;
  }[];
  clients: ReadonlyMap<number, string>;
  /** Null: the element is gone. */
  authors: ReadonlyMap<ElementKey, Author | null>;
  line: BookLine;
}

/** What became of an append. `stale`: the board is past its base, and nothing of it was written. */
export type Appended = { last: bigint; revision: number } | 'stale';

/** What was written to a board after some update, by whichever server. */
export interface Newer {
  revision: number;
  packings: number;
  updates: readonly StoredUpdate[];
  /** Member by client id, all there are; likewise the authors. */
  clients: ReadonlyMap<number, string>;
  authors: ReadonlyMap<ElementKey, Author>;
}

export interface Refused {
  boardId: string;
  memberId: string;
  code: string;
  why: string;
  bytes: Uint8Array;
  at: Date;
}

/** A finding that stands in the history as open. */
interface OpenFinding {
  findingId: string;
  openedAt: Date;
}

export interface WaiverRecord {
  by: string;
  reason: string;
  at: Date;
}

/** Everything a room reads and writes. Every write may be tried again: a second time changes nothing that counts. */
export interface BoardStore {
  /** Null: there is no such board. */
  load(boardId: string): Promise<StoredBoard | null>;
  /** Each board whole or not at all. A board that is not in the answer is gone. */
  append(boards: readonly BoardAppend[]): Promise<ReadonlyMap<string, Appended>>;
  /** Null: there is no such board. */
  newer(boardId: string, after: bigint): Promise<Newer | null>;
  /** Of those that exist. */
  revisions(boardIds: readonly string[]): Promise<ReadonlyMap<string, number>>;
  /** `bytes`: the board with every update up to and including `upTo`; `packed` as in a snapshot. */
  fold(boardId: string, upTo: bigint, bytes: Uint8Array, packed: Uint8Array | null): Promise<void>;
  /** Null: there is no such board. */
  whole(boardId: string): Promise<StoredWhole | null>;
  /** False: the board is past its base, and nothing was written. */
  pack(packing: BoardPacking): Promise<boolean>;
  quarantine(refused: Refused): Promise<void>;
  looks(staffId: string): Promise<readonly LookRecipe[]>;
  waivers(boardId: string): Promise<ReadonlyMap<string, WaiverRecord>>;
  openFindings(boardId: string): Promise<readonly OpenFinding[]>;
  /** Makes the history's open findings exactly these. */
  recordFindings(boardId: string, standing: readonly LiveFinding[], at: Date): Promise<void>;
}
