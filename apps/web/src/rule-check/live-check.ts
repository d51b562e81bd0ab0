import type { LookRecipe } from '@stemline/football/shelf';
import type { LiveFinding } from '@stemline/protocol/message';
import type { Finding } from '@stemline/read-rules/finding';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import type { Defence } from '../board/board-ui.ts';
import type { Standing } from '../looks/standing.ts';
import type { Checked, RuleWorker, WantedCheck } from './rule-worker.ts';
import { agree, asTheRoomSays, calm, type ShownFinding, seenAhead } from './shown-finding.ts';

/** What the page knows of its board. */
export interface BoardFacts {
  play: RuledPlay;
  /** Null: the staff's own looks have not come; others would bring other findings than the room's. */
  looks: readonly LookRecipe[] | null;
  defence: Defence;
  /** The room's findings. */
  room: readonly LiveFinding[];
  /** Edits that only this browser holds. */
  unsaved: number;
}

export interface LiveCheckState {
  /** The play as the hand on it would leave it; null when there is none. */
  underHand: RuledPlay | null;
  /** What stands against that play; null before its first answer. */
  standing: Standing | null;
  findings: readonly ShownFinding[];
  /** When the hand moved that this follows, as events tell the time; null where no hand did. */
  follows: number | null;
  /** The worker has failed: the room alone says what it finds. */
  failed: boolean;
}

/** How long the room's findings may stay others than this page's once its last edit is saved, milliseconds. */
export const roomPatienceMs = 10_000;

interface Own {
  findings: readonly Finding[];
  wanted: WantedCheck;
}

/**
 * The rule check of this page, run in its worker over the play as it is under the hand. The room
 * stays the one writer of findings: what the page has seen is shown from the first movement of a hand
 * until the room has checked what came of it, and doubles nothing that the room says.
 */
export class LiveCheck {
  readonly #worker: RuleWorker;
  readonly #listeners = new Set<() => void>();
  #facts: BoardFacts | null = null;
  #hand: { play: RuledPlay; since: number } | null = null;
  #asked: WantedCheck | null = null;
  #own: Own | null = null;
  #isAhead = false;
  #patience: ReturnType<typeof setTimeout> | null = null;
  #settling = false;
  #ended = false;
  #state: LiveCheckState = {
    underHand: null,
    standing: null,
    findings: [],
    follows: null,
    failed: false,
  };

  constructor(worker: RuleWorker) {
    this.#worker = worker;
    worker.onChecked = (checked, wanted) => this.#hear(checked, wanted);
    worker.onFailed = () => {
      this.#own = null;
      this.#set({ failed: true, standing: null });
      this.#settle();
    };
  }

  readonly state = (): LiveCheckState => this.#state;

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  /** Something of the board is another. */
  know(facts: BoardFacts): void {
    this.#facts = facts;
    this.#settleSoon();
  }

  /** The play as the hand would leave it, and when it moved; null once it has let go. */
  hold(play: RuledPlay | null, since: number): void {
    if (play === null && this.#hand === null) return;
    this.#hand = play && { play, since };
    this.#settleSoon();
  }

  end(): void {
    this.#ended = true;
    if (this.#patience) clearTimeout(this.#patience);
    this.#worker.end();
    this.#listeners.clear();
  }

  #hear({ findings, standing }: Checked, wanted: WantedCheck): void {
    this.#own = { findings: findings ?? this.#own?.findings ?? [], wanted };
    const ofHand = this.#hand !== null && wanted.since !== null;
    this.#set({ standing: ofHand ? standing : null, follows: wanted.since });
    this.#settle();
  }

  /** A hand that lets go is told of in one breath with the edit it has left: neither counts alone. */
  #settleSoon(): void {
    if (this.#settling) return;
    this.#settling = true;
    queueMicrotask(() => {
      this.#settling = false;
      if (!this.#ended) this.#settle();
    });
  }

  #settle(): void {
    const facts = this.#facts;
    if (!facts) return;
    this.#ask(facts);
    this.#isAhead = this.#mustBeAhead(facts);
    const own = this.#isAhead && facts.looks && !this.#state.failed ? this.#own : null;
    const findings = own ? seenAhead(facts.room, own.findings) : asTheRoomSays(facts.room);
    this.#set({
      underHand: this.#hand?.play ?? null,
      standing: this.#hand ? this.#state.standing : null,
      findings: calm(this.#state.findings, findings, this.#hand !== null),
    });
  }

  /** Checked at rest as well: the worker then knows the play before the hand takes it up. */
  #ask({ play, looks, defence }: BoardFacts): void {
    if (!looks || this.#state.failed) return;
    const wanted: WantedCheck = this.#hand
      ? { looks, defence, ...this.#hand }
      : { looks, defence: { kind: 'none' }, play, since: null };
    const { play: of, looks: by, defence: against } = this.#asked ?? {};
    const asBefore =
      of === wanted.play &&
      by === wanted.looks &&
      (wanted.since === null || against === wanted.defence);
    if (asBefore) return;
    this.#asked = wanted;
    this.#worker.check(wanted);
  }

  #mustBeAhead({ room, unsaved }: BoardFacts): boolean {
    const isHeld = this.#hand !== null || unsaved > 0;
    if (isHeld || !this.#isAhead) {
      this.#stopWaiting();
      return isHeld;
    }
    const own = this.#own?.wanted === this.#asked ? this.#own : null;
    if (own && agree(room, own.findings)) {
      this.#stopWaiting();
      return false;
    }
    this.#patience ??= setTimeout(() => {
      this.#isAhead = false;
      this.#settle();
    }, roomPatienceMs);
    return true;
  }

  #stopWaiting(): void {
    if (this.#patience) clearTimeout(this.#patience);
    this.#patience = null;
  }

  #set(change: Partial<LiveCheckState>): void {
    const next = { ...this.#state, ...change };
    const isNews = Object.entries(next).some(
      ([key, value]) => value !== this.#state[key as keyof LiveCheckState],
    );
    if (!isNews) return;
    this.#state = next;
    for (const listener of [...this.#listeners]) listener();
  }
}
