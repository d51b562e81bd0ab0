import { createHash } from 'node:crypto';
import { countedAs } from '../http/counted-as.ts';
import type { Pass } from './access.ts';
import type { RoomLimits } from './limits.ts';

type DoorLimits = Pick<
  RoomLimits,
  'maxUndecidedUpgrades' | 'refusedUpgradesPerMinute' | 'maxSocketsPerUser'
>;

const minute = 60_000;
/** Requests for a socket about which the store is asked at once. */
const maxDeciding = 12;
/** Callers whose refusals are counted at once; past it counting begins anew. */
const maxCallers = 10_000;

/**
 * Whom refusals are counted against. A session is told from the others at its address: a whole staff may
 * come from one, and must not be shut out by one of them. What we have not signed is none: everybody can make it up.
 */
export function callerOf(address: string, token: string | null): string {
  const from = countedAs(address);
  return token === null ? from : createHash('sha256').update(from).update(token).digest('base64');
}

/** Counts who stands at the door, before and after it is known who it is. SPEC R14. */
export class Door {
  readonly #limits: DoorLimits;
  #undecided = 0;
  #deciding = 0;
  /** Who waits for a turn, in order. */
  readonly #line: (() => void)[] = [];
  #refused = new Map<string, number>();
  #since = performance.now();
  /** Of each user: how many he has, and the pass of the first. */
  readonly #sockets = new Map<string, { count: number; pass: Pass }>();

  constructor(limits: DoorLimits) {
    this.#limits = limits;
  }

  /** False: too many wait already. True obliges to call `turn`, and `decided` after that. */
  begin(): boolean {
    if (this.#undecided >= this.#limits.maxUndecidedUpgrades) return false;
    this.#undecided += 1;
    return true;
  }

  /** Resolves when the store may be asked about the next one: a rush must not take all its connections. */
  turn(): Promise<void> {
    if (this.#deciding < maxDeciding) {
      this.#deciding += 1;
      return Promise.resolve();
    }
    return new Promise((go) => this.#line.push(go));
  }

  decided(): void {
    this.#undecided -= 1;
    const next = this.#line.shift();
    if (next) next();
    else this.#deciding -= 1;
  }

  isTired(caller: string): boolean {
    if (performance.now() - this.#since > minute) {
      this.#refused = new Map();
      this.#since = performance.now();
    }
    return (this.#refused.get(caller) ?? 0) >= this.#limits.refusedUpgradesPerMinute;
  }

  refused(caller: string): void {
    if (this.#refused.size >= maxCallers) this.#refused = new Map();
    this.#refused.set(caller, (this.#refused.get(caller) ?? 0) + 1);
  }

  /** False: this person has more sockets than he may with this one. `left` has to be called either way. */
  enter(pass: Pass): boolean {
    const sockets = this.#sockets.get(pass.userId) ?? { count: 0, pass };
    sockets.count += 1;
    this.#sockets.set(pass.userId, sockets);
    return sockets.count <= this.#limits.maxSocketsPerUser;
  }

  /** A pass of this person's who is in already. */
  passOf(userId: string): Pass | null {
    return this.#sockets.get(userId)?.pass ?? null;
  }

  left(userId: string): void {
    const sockets = this.#sockets.get(userId);
    if (!sockets) return;
    sockets.count -= 1;
    if (sockets.count === 0) this.#sockets.delete(userId);
  }
}
