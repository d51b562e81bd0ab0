import { absorb } from '@stemline/board/absorb';
import type { EditScope } from '@stemline/board/edit-scope';
import type { ElementKey } from '@stemline/board/element-key';
import { judge } from '@stemline/board/judge';
import { type AcceptedTogether, judgeTogether, type Part } from '@stemline/board/judge-together';
import { maxWritersOfMember } from '@stemline/board/limits';
import { type MapRoot, notesRoot } from '@stemline/board/schema';
import { Shadow } from '@stemline/board/shadow';
import type { Accepted, Refusal, Verdict } from '@stemline/board/verdict';
import * as Y from 'yjs';

/** Owner of the client ids the server itself wrote with; no member has it. */
const theServer = '';

export type Passed =
  | (Accepted & { news: true })
  /** The board has all of it already. */
  | { ok: true; news: false }
  | (Refusal & { ok: false });

export type PassedTogether = (AcceptedTogether & { news: true }) | { ok: true; news: false };

export interface GateDeps {
  /** Everything accepted so far, as one update. */
  accepted: () => Uint8Array;
  /** Whom a client id is bound to on the board; null: the server. */
  clients: Map<number, string | null>;
  /** The member who speaks under this id in presence and has not edited yet. */
  present: (clientId: number) => string | null;
  maxDocumentBytes: number;
  /** Judging broke: a fault of ours that somebody's bytes brought out. */
  onFault: (error: unknown) => void;
  /** The shadow is used; `renew` gives it up. */
  onUse: () => void;
}

/** No structs and no deletions: what a client with nothing new answers to a sync. */
export const isEmpty = (update: Uint8Array): boolean =>
  update.byteLength === 2 && update[0] === 0 && update[1] === 0;

/** May this member's update in? Asks board/judge on a shadow of what is accepted. SPEC R30 to R38. */
export class Gate {
  readonly #deps: GateDeps;
  #shadow: Shadow | null = null;
  /** Upper bound of the bytes of the accepted state. */
  #size = 0;

  constructor(deps: GateDeps) {
    this.#deps = deps;
  }

  ownerOf(clientId: number): string | null {
    return this.#deps.clients.get(clientId) ?? null;
  }

  judge(update: Uint8Array, member: string, scope: EditScope): Passed {
    if (isEmpty(update)) return { ok: true, news: false };
    const shadow = this.#open();
    const tooLarge = this.#whyTooLarge(update.byteLength, shadow);
    if (tooLarge) return tooLarge;
    const verdict = this.#try(() =>
      judge({
        shadow,
        update,
        member,
        clients: (clientId) => this.boundTo(clientId),
        mayBring: () => this.#mayBring(member),
        scope,
      }),
    );
    const taken = this.#entered(verdict, shadow);
    if (!taken.ok || !taken.news) return taken;
    for (const clientId of taken.clients) this.#deps.clients.set(clientId, member);
    return taken;
  }

  /** The same of what several members wrote on each other's words: all of it or nothing (R112). */
  judgeTogether(parts: readonly Part[]): PassedTogether | Refusal {
    const shadow = this.#open();
    for (const { update } of parts) {
      const tooLarge = this.#whyTooLarge(update.byteLength, shadow);
      if (tooLarge) return tooLarge;
    }
    const verdict = this.#try(() =>
      judgeTogether({
        shadow,
        parts,
        clients: (clientId) => this.boundTo(clientId),
        mayBring: (member) => this.#mayBring(member),
      }),
    );
    // How much they say together is known once each of their words is counted once.
    const together = verdict.ok ? this.#whyTooLarge(verdict.update.byteLength, shadow) : null;
    const taken = this.#entered(together ? { ...together, shadow: 'dirty' } : verdict, shadow);
    if (!taken.ok || !taken.news) return taken;
    for (const [clientId, member] of taken.clients) this.#deps.clients.set(clientId, member);
    return taken;
  }

  /** After a trial: what was refused leaves nothing behind, what was taken counts. */
  #entered<V extends { ok: true; news: boolean; update: Uint8Array }>(
    verdict: V | Refusal,
    shadow: Shadow,
  ): (V & { news: true }) | { ok: true; news: false } | Refusal {
    if (!verdict.ok) {
      if (verdict.shadow === 'dirty') shadow.rebuild(this.#deps.accepted());
      return verdict;
    }
    if (!verdict.news) return { ok: true, news: false };
    this.#size += verdict.update.byteLength;
    return { ...verdict, news: true };
  }

  /** The same as `judge` on another state of the board, which nothing that is accepted here touches. */
  tryOn(
    state: Uint8Array,
    update: Uint8Array,
    member: string,
    scope: EditScope,
  ): { verdict: Verdict; ydoc: Y.Doc; end: () => void } {
    const shadow = new Shadow(state);
    const clients = (clientId: number): string | undefined => this.boundTo(clientId);
    const mayBring = (): number => this.#mayBring(member);
    const verdict = this.#try(() => judge({ shadow, update, member, clients, mayBring, scope }));
    return { verdict, ydoc: shadow.ydoc, end: () => shadow.destroy() };
  }

  /** Something became durable that another server's gate has taken. */
  absorb(update: Uint8Array): void {
    if (!this.#shadow) return;
    this.#size += update.byteLength;
    if (!absorb(this.#shadow, update)) this.renew();
  }

  /** A client id is a member's by what is stored, whatever was believed here. */
  bind(clientId: number, member: string): void {
    this.#deps.clients.set(clientId, member);
  }

  /** Forgets what was accepted and is not durable: the next trial begins from `accepted`. */
  renew(): void {
    this.close();
  }

  /** Whether an element stands on the board as accepted. */
  holds(key: ElementKey): boolean {
    if (key === notesRoot) return true;
    const slash = key.indexOf('/');
    return (
      this.#open().accepted(key.slice(0, slash) as MapRoot, key.slice(slash + 1)) !== undefined
    );
  }

  /** How many clocks of a client id are accepted. */
  reached(clientId: number): number {
    return Y.getState(this.#open().ydoc.store, clientId);
  }

  close(): void {
    this.#shadow?.destroy();
    this.#shadow = null;
  }

  #open(): Shadow {
    this.#deps.onUse();
    if (this.#shadow) return this.#shadow;
    const state = this.#deps.accepted();
    this.#size = state.byteLength;
    this.#shadow = new Shadow(state);
    return this.#shadow;
  }

  /** What cannot be judged is refused: nobody else may suffer from it. */
  #try<V extends { ok: true }>(trial: () => V | Refusal): V | Refusal {
    try {
      return trial();
    } catch (error) {
      this.#deps.onFault(error);
      return {
        ok: false,
        code: 'malformed',
        why: 'it cannot be judged',
        mend: 'Open the board again; what you did is kept, so that you can take it over by hand.',
        elements: [],
        names: [],
        awaits: new Map(),
        shadow: 'dirty',
      };
    }
  }

  /** Counted where somebody writes under a new id: once for each time that a page is opened. */
  #mayBring(member: string): number {
    let has = 0;
    for (const whose of this.#deps.clients.values()) if (whose === member) has += 1;
    return maxWritersOfMember - has;
  }

  /** Whose a client id is, by what is stored or by who speaks under it; undefined: nobody's yet. */
  boundTo(clientId: number): string | undefined {
    const bound = this.#deps.clients.get(clientId);
    if (bound !== undefined) return bound ?? theServer;
    return this.#deps.present(clientId) ?? undefined;
  }

  #whyTooLarge(bytes: number, shadow: Shadow): Refusal | null {
    const max = this.#deps.maxDocumentBytes;
    if (this.#size + bytes <= max) return null;
    // The sum of what came is only a bound: overwritten content takes no room.
    this.#size = this.#deps.accepted().byteLength;
    if (this.#size + bytes <= max) return null;
    return {
      ok: false,
      code: 'tooLarge',
      why: `the board would grow past ${Math.round(max / 1_048_576)} MiB`,
      mend: 'Duplicate the board and go on there: a copy starts without its history.',
      elements: [],
      names: [],
      awaits: new Map(),
      shadow: shadow.clean ? 'clean' : 'dirty',
    };
  }
}
