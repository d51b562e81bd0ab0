/** Judging a refused update that took longer than this was costly; milliseconds. */
const costlyRefusalMs = 50;
/** So many times as long as his refused updates took, nothing of a member's is judged: a tenth of a core is his. */
const pauseFactor = 9;
/** Judging an update that was taken is seldom a tenth of this; milliseconds. */
const costlyMs = 8;
/** Of costly ones that were taken he may have so much of a core in the long run, */
const share = 1 / 4;
/** and so many milliseconds at once. */
const burstMs = 100;
/** Each that was not costly takes so much off: one in fifty takes long because the process had other things to do. */
const forgivenMs = 1;
/** Bytes of one member's updates that may wait meanwhile. */
const maxWaitingBytes = 4_194_304;

interface Account {
  /** When he is judged again (performance.now). */
  until: number;
  /** What his costly updates took beyond his share, milliseconds, as of then. */
  owed: number;
  at: number;
  waitingBytes: number;
}

/**
 * Members whose updates take long to judge: the time is everybody's. What they send next waits, on
 * whatever connection to this server. SPEC R76.
 */
export class CostlyUpdates {
  readonly #accounts = new Map<string, Account>();

  /** Judging took so long, milliseconds, and led to a refusal. */
  refused(memberId: string, tookMs: number): void {
    if (tookMs < costlyRefusalMs) return;
    const account = this.#accountOf(memberId);
    account.until = Math.max(account.until, performance.now()) + tookMs * pauseFactor;
  }

  /** The same, and it was taken. */
  taken(memberId: string, tookMs: number): void {
    const isCostly = tookMs >= costlyMs;
    if (!isCostly && !this.#accounts.has(memberId)) return;
    const account = this.#accountOf(memberId);
    const now = performance.now();
    account.owed = Math.max(0, owedNow(account, now) + (isCostly ? tookMs : -forgivenMs));
    account.at = now;
    if (account.owed > burstMs)
      account.until = Math.max(account.until, now + (account.owed - burstMs) / share);
  }

  /** Milliseconds until his updates are judged again. */
  waitMs(memberId: string): number {
    const account = this.#accounts.get(memberId);
    if (!account) return 0;
    const now = performance.now();
    const left = account.until - now;
    if (left <= 0 && account.waitingBytes === 0 && owedNow(account, now) === 0)
      this.#accounts.delete(memberId);
    return Math.max(0, left);
  }

  /** Counts what waits; gives back how to say, once or oftener, that it waits no more. Null: too much waits already. */
  keep(memberId: string, bytes: number): (() => void) | null {
    const account = this.#accountOf(memberId);
    if (account.waitingBytes + bytes > maxWaitingBytes) return null;
    account.waitingBytes += bytes;
    let waits = true;
    return () => {
      if (waits) account.waitingBytes -= bytes;
      waits = false;
    };
  }

  #accountOf(memberId: string): Account {
    const now = performance.now();
    const account = this.#accounts.get(memberId) ?? {
      until: now,
      owed: 0,
      at: now,
      waitingBytes: 0,
    };
    this.#accounts.set(memberId, account);
    return account;
  }
}

const owedNow = ({ owed, at }: Account, now: number): number =>
  Math.max(0, owed - (now - at) * share);
