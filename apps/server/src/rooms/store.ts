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
  /** Who made it, and when: the author of whatever nobody has set since. */
  maker: Author;
  line: BookLine;
  snapshot: StoredUpdate | null;
  /** Later than the snapshot, in order. */
  updates: readonly StoredUpdate[];
  /** Member by client id. */
  clients: ReadonlyMap<number, string>;
  authors: ReadonlyMap<ElementKey, Author>;
}

interface StoredUpdate {
  id: bigint;
  bytes: Uint8Array;
}

/** What one commit adds to one board. */
export interface BoardAppend {
  boardId: string;
  updates: readonly { bytes: Uint8Array; memberId: string | null; at: Date }[];
  clients: ReadonlyMap<number, string>;
  /** Null: the element is gone. */
  authors: ReadonlyMap<ElementKey, Author | null>;
  line: BookLine;
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
  /** All of it or nothing. The answer names the last update of each board; a board not in it is gone. */
  append(boards: readonly BoardAppend[]): Promise<ReadonlyMap<string, bigint>>;
  /** `bytes`: the board with every update up to and including `upTo`. */
  fold(boardId: string, upTo: bigint, bytes: Uint8Array): Promise<void>;
  quarantine(refused: Refused): Promise<void>;
  looks(staffId: string): Promise<readonly LookRecipe[]>;
  waivers(boardId: string): Promise<ReadonlyMap<string, WaiverRecord>>;
  openFindings(boardId: string): Promise<readonly OpenFinding[]>;
  /** Makes the history's open findings exactly these. */
  recordFindings(boardId: string, standing: readonly LiveFinding[], at: Date): Promise<void>;
}
