import type { Background } from './background.ts';
import type { RoomLimits } from './limits.ts';
import type { RoomMetrics } from './metrics.ts';
import type { BoardStore, Refused } from './store.ts';

export interface QuarantineDeps {
  store: Pick<BoardStore, 'quarantine'>;
  limits: Pick<RoomLimits, 'quarantinedPerMinute'>;
  background: Background;
  metrics: RoomMetrics;
  note: (what: string, details: Record<string, unknown>) => void;
}

const minute = 60_000;

/** Keeps refused updates with author and reason; one member cannot fill the store with them (R36). */
export class Quarantine {
  readonly #deps: QuarantineDeps;
  /** Refused in the running minute, by member. */
  #recent = new Map<string, number>();
  #since = performance.now();
  #refused = 0;

  constructor(deps: QuarantineDeps) {
    this.#deps = deps;
  }

  /** Updates refused since the process began. */
  get refused(): number {
    return this.#refused;
  }

  /** `requestId`: of the handshake of the connection it came by. */
  keep(refused: Refused, requestId: string): void {
    this.#refused += 1;
    if (performance.now() - this.#since > minute) {
      this.#recent = new Map();
      this.#since = performance.now();
    }
    const { boardId, memberId, code, why, bytes } = refused;
    const count = (this.#recent.get(memberId) ?? 0) + 1;
    this.#recent.set(memberId, count);
    const kept = count <= this.#deps.limits.quarantinedPerMinute;
    this.#deps.metrics.quarantined(kept);
    this.#deps.note('refused an update', {
      requestId,
      board: boardId,
      member: memberId,
      code,
      why,
      bytes: bytes.byteLength,
      kept,
    });
    if (kept)
      this.#deps.background.untilDone('keep a refused update', boardId, () =>
        this.#deps.store.quarantine(refused),
      );
  }
}
