import type { PresenceElsewhere } from '../../bus/message.ts';

const nobody: ReadonlyMap<number, unknown> = new Map();

/** Presence of those who are on the same board through other servers. */
export class Elsewhere {
  /** By client id, then by server: somebody who changes servers may be at both for a while. */
  readonly #states = new Map<number, Map<string, PresenceElsewhere>>();

  /** The newest state of a client id; null: nobody speaks under it elsewhere. */
  of(clientId: number): PresenceElsewhere | null {
    let newest: PresenceElsewhere | null = null;
    for (const state of this.#states.get(clientId)?.values() ?? []) {
      if (newest === null || state.clock > newest.clock) newest = state;
    }
    return newest;
  }

  *all(): Iterable<PresenceElsewhere> {
    for (const clientId of this.#states.keys()) {
      const state = this.of(clientId);
      if (state) yield state;
    }
  }

  /** False: it is older than what is known. */
  hear(server: string, state: PresenceElsewhere): boolean {
    const known = this.#states.get(state.clientId) ?? new Map<string, PresenceElsewhere>();
    const before = known.get(server);
    if (before && before.clock >= state.clock) return false;
    if (state.json === null) known.delete(server);
    else known.set(server, state);
    if (known.size > 0) this.#states.set(state.clientId, known);
    else this.#states.delete(state.clientId);
    return true;
  }

  /** Whether so much is known of what each of these showed there. */
  knows(server: string, shown: ReadonlyMap<number, number>): boolean {
    return [...shown].every(([clientId, clock]) => {
      const known = this.#states.get(clientId)?.get(server);
      return known !== undefined && known.clock >= clock;
    });
  }

  /** Client ids of whoever was there and is not among these. */
  forget(server: string, but: ReadonlyMap<number, unknown> = nobody): number[] {
    const gone: number[] = [];
    for (const [clientId, known] of this.#states) {
      if (but.has(clientId) || !known.delete(server)) continue;
      gone.push(clientId);
      if (known.size === 0) this.#states.delete(clientId);
    }
    return gone;
  }
}
