import type { EditScope } from '@stemline/board/edit-scope';
import { judge } from '@stemline/board/judge';
import { type AcceptedTogether, judgeTogether, type Part } from '@stemline/board/judge-together';
import { maxWritersOfMember } from '@stemline/board/limits';
import { Shadow } from '@stemline/board/shadow';
import type { Refusal, Verdict } from '@stemline/board/verdict';
import * as Y from 'yjs';

/**
 * What a room does with the gate, without a room: it binds client ids, keeps what was accepted, and
 * rebuilds the shadow after a refusal.
 */
export class Gate {
  readonly #accepted: Y.Doc;
  readonly #bound = new Map<number, string>();
  readonly shadow: Shadow;

  constructor(state: Uint8Array) {
    this.#accepted = new Y.Doc();
    Y.applyUpdate(this.#accepted, state);
    this.shadow = new Shadow(state);
  }

  /** Everything accepted so far. */
  get state(): Uint8Array {
    return Y.encodeStateAsUpdate(this.#accepted);
  }

  bind(client: number, member: string): void {
    this.#bound.set(client, member);
  }

  offer(member: string, update: Uint8Array, scope: EditScope = { kind: 'all' }): Verdict {
    const verdict = judge({
      shadow: this.shadow,
      update,
      member,
      clients: (client) => this.#bound.get(client),
      mayBring: () => this.#mayBring(member),
      scope,
    });
    if (verdict.ok) {
      for (const client of verdict.clients) this.#bound.set(client, member);
      Y.applyUpdate(this.#accepted, verdict.update);
    } else if (verdict.shadow === 'dirty') {
      this.shadow.rebuild(this.state);
    }
    return verdict;
  }

  /** The same of what several wrote on each other's words. */
  offerTogether(parts: readonly Part[]): AcceptedTogether | Refusal {
    const verdict = judgeTogether({
      shadow: this.shadow,
      parts,
      clients: (client) => this.#bound.get(client),
      mayBring: (member) => this.#mayBring(member),
    });
    if (verdict.ok) {
      for (const [client, member] of verdict.clients) this.#bound.set(client, member);
      Y.applyUpdate(this.#accepted, verdict.update);
    } else if (verdict.shadow === 'dirty') {
      this.shadow.rebuild(this.state);
    }
    return verdict;
  }

  #mayBring(member: string): number {
    return (
      maxWritersOfMember - [...this.#bound.values()].filter((whose) => whose === member).length
    );
  }
}
