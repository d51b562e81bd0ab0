import type { Dialect } from './client.ts';

/** Whom a load speaks to. */
export interface Target {
  dialect: Dialect;
  url: string;
  /** Further servers of the same rooms; `by` says whether a room is at one of them or its clients go round. */
  also?: { urls: readonly string[]; by: 'room' | 'client' };
  rooms: readonly string[];
  /** Taken in turn; none for a server that knows nobody. */
  cookies: readonly string[];
  /** The board to begin with, for servers that store none; null: the server has it. */
  base: Uint8Array | null;
}

/** Editors who move players and point, at a steady pace. */
export interface SteadyJob {
  kind: 'steady';
  target: Target;
  perRoom: number;
  /** Of each client. */
  editsPerSecond: number;
  presencePerSecond: number;
  warmMs: number;
  measureMs: number;
  /** Bare commits made meanwhile: the price of one commit on this very machine at this very time. */
  commits: { url: string; perSecond: number; bytes: number } | null;
}

export interface SteadyResult {
  /** Milliseconds from a client's write to its being in another's document, and so on; one value a delivery. */
  edit: number[];
  presence: number[];
  saved: number[];
  commit: number[];
  /** Deliveries in the measured time: one a receiver. */
  edits: number;
  presences: number;
  /** Bytes of the frames that brought the edits. */
  changeBytes: number;
  /** Of the load itself. */
  cpuMs: number;
  ms: number;
}

/** Clients who come to one room, `atOnce` together, one group after another. */
export interface JoinJob {
  kind: 'join';
  target: Target;
  atOnce: number;
  times: number;
}

export interface JoinResult {
  /** For each group, milliseconds until its last one has the whole board. */
  ms: number[];
}

/** Brings a board into a room and stays, so that the server keeps it. */
export interface SeedJob {
  kind: 'seed';
  target: Target;
}

/** Sockets that sync and then say nothing, until released. */
export interface IdleJob {
  kind: 'idle';
  target: Target;
  sockets: number;
}

/** A long history: so many gestures by a few editors, as fast as they are taken. */
export interface HistoryJob {
  kind: 'history';
  target: Target;
  gestures: number;
  editors: number;
}

export interface HistoryResult {
  ms: number;
  /** The whole board afterwards. */
  bytes: number;
}

/** Opens every room once and leaves it. */
export interface VisitJob {
  kind: 'visit';
  target: Target;
}

export type Job = SteadyJob | JoinJob | SeedJob | IdleJob | HistoryJob | VisitJob;

/** From the load: its measured time begins or ends (it waits for `go`), it stands ready, it is done. */
export type FromLoad =
  | { said: 'begins' | 'ends' | 'ready' }
  | { said: 'done'; result: unknown }
  | { said: 'failed'; why: string };
export type ToLoad = { job: Job } | { go: true };
