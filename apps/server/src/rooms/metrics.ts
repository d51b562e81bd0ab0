import { Counter, Gauge, Histogram, type Registry } from 'prom-client';
import type { Refusal } from './refusal.ts';

/** What only the rooms know at the moment somebody asks. */
export interface Present {
  rooms: () => number;
  resting: () => number;
  sockets: () => number;
}

const saveLagSeconds = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 15, 60];
const checkSeconds = [0.002, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 15, 60];

/**
 * What the rooms of one server count for whoever runs it. A message costs one addition: what happens
 * that often is a plain number, read when the metrics are asked for.
 */
export class RoomMetrics {
  /** Messages handed to sockets. */
  delivered = 0;
  readonly #edits: Counter;
  readonly #saveLag: Histogram;
  readonly #commitFailures: Counter;
  readonly #refusedEdits: Counter<'reason'>;
  readonly #quarantined: Counter<'kept'>;
  readonly #checks: Histogram;
  readonly #atDoor: Counter<'reason'>;
  readonly #ended: Counter<'reason'>;
  readonly #slow: Counter;

  constructor(registry: Registry, { rooms, resting, sockets }: Present) {
    const registers = [registry];
    const metrics = this;
    new Gauge({
      name: 'stemline_rooms_open',
      help: 'Boards in memory, with or without anybody on them.',
      registers,
      collect() {
        this.set(rooms());
      },
    });
    new Gauge({
      name: 'stemline_rooms_resting',
      help: 'Boards in memory of which only the bytes are kept, since nothing happens on them.',
      registers,
      collect() {
        this.set(resting());
      },
    });
    new Gauge({
      name: 'stemline_room_sockets',
      help: 'Connections to rooms.',
      registers,
      collect() {
        this.set(sockets());
      },
    });
    new Counter({
      name: 'stemline_room_messages_delivered_total',
      help: 'Messages handed to sockets of rooms.',
      registers,
      collect() {
        this.reset();
        this.inc(metrics.delivered);
      },
    });
    this.#edits = new Counter({
      name: 'stemline_edits_accepted_total',
      help: 'Edits accepted and committed.',
      registers,
    });
    this.#saveLag = new Histogram({
      name: 'stemline_edit_save_lag_seconds',
      help: 'From a client’s edit, or the answer to its sync, being accepted to its commit.',
      buckets: saveLagSeconds,
      registers,
    });
    this.#commitFailures = new Counter({
      name: 'stemline_commit_failures_total',
      help: 'Commits of edits that failed; each is tried again.',
      registers,
    });
    this.#refusedEdits = new Counter({
      name: 'stemline_edits_refused_total',
      help: 'Edits refused, by reason.',
      labelNames: ['reason'],
      registers,
    });
    this.#quarantined = new Counter({
      name: 'stemline_edits_quarantined_total',
      help: 'Refused edits of connections; kept="no": only counted and logged, the member had too many.',
      labelNames: ['kept'],
      registers,
    });
    this.#checks = new Histogram({
      name: 'stemline_rule_check_seconds',
      help: 'From a rule check being asked for to its findings.',
      buckets: checkSeconds,
      registers,
    });
    this.#atDoor = new Counter({
      name: 'stemline_room_requests_refused_total',
      help: 'Requests for a socket refused before there was one, by reason.',
      labelNames: ['reason'],
      registers,
    });
    this.#ended = new Counter({
      name: 'stemline_room_sockets_ended_total',
      help: 'Connections that the server ended, by reason; refusedEdit: an edit of theirs was refused; silent: they answered no heartbeat.',
      labelNames: ['reason'],
      registers,
    });
    this.#slow = new Counter({
      name: 'stemline_room_slow_readers_total',
      help: 'Connections cut off because they read too slowly.',
      registers,
    });
  }

  /** A commit brought so many edits; what it confirms to clients was accepted at these times (performance.now). */
  saved(edits: number, acceptedAt: readonly number[]): void {
    this.#edits.inc(edits);
    const now = performance.now();
    for (const at of acceptedAt) this.#saveLag.observe((now - at) / 1000);
  }

  commitFailed(): void {
    this.#commitFailures.inc();
  }

  editRefused(reason: string): void {
    this.#refusedEdits.inc({ reason });
  }

  quarantined(kept: boolean): void {
    this.#quarantined.inc({ kept: kept ? 'yes' : 'no' });
  }

  checked(ms: number): void {
    this.#checks.observe(ms / 1000);
  }

  refusedAtDoor(reason: Refusal): void {
    this.#atDoor.inc({ reason });
  }

  ended(reason: Refusal | 'refusedEdit' | 'silent'): void {
    this.#ended.inc({ reason });
    if (reason === 'slowReader') this.#slow.inc();
  }
}
