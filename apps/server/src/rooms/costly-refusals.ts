/** Judging a refused update that took longer than this was costly; milliseconds. */
const costlyMs = 50;
/** So many times as long as his refused updates took, nothing of a member's is judged: a tenth of a core is his. */
const pauseFactor = 9;
/** Bytes of one member's updates that may wait meanwhile. */
const maxWaitingBytes = 4_194_304;

interface Account {
  /** When he is judged again (performance.now). */
  until: number;
  waitingBytes: number;
}

/**
 * Members whose refused updates took long to judge: the time is everybody's. What they send next waits, on
 * whatever connection to this server. SPEC R76.
 */
export class CostlyRefusals {
  readonly #accounts = new Map<string, Account>();

  /** Judging took so long, milliseconds, and led to a refusal. */
  note(memberId: string, tookMs: number): void {
    if (tookMs < costlyMs) return;
    const now = performance.now();
    const account = this.#accounts.get(memberId) ?? { until: now, waitingBytes: 0 };
    account.until = Math.max(account.until, now) + tookMs * pauseFactor;
    this.#accounts.set(memberId, account);
  }

  /** Milliseconds until his updates are judged again. */
  waitMs(memberId: string): number {
    const account = this.#accounts.get(memberId);
    if (!account) return 0;
    const left = account.until - performance.now();
    if (left <= 0 && account.waitingBytes === 0) this.#accounts.delete(memberId);
    return Math.max(0, left);
  }

  /** Counts what waits; gives back how to say, once or oftener, that it waits no more. Null: too much waits already. */
  keep(memberId: string, bytes: number): (() => void) | null {
    const account = this.#accounts.get(memberId);
    if (!account) return () => undefined;
    if (account.waitingBytes + bytes > maxWaitingBytes) return null;
    account.waitingBytes += bytes;
    let waits = true;
    return () => {
      if (waits) account.waitingBytes -= bytes;
      waits = false;
    };
  }
}
