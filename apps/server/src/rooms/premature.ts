import { type Mentions, mentionsIfReadable } from '@stemline/board/mentions';
import type { Refusal } from '@stemline/board/verdict';
import { closedLengths, type Line, neededFor } from './closed-group.ts';
import type { Connection } from './connection.ts';
import type { RoomLimits } from './limits.ts';
import { merged } from './merged.ts';

/** What a connection sent, and of how many frames it is. */
export interface Sent {
  readonly update: Uint8Array;
  readonly frames: number;
  /**
   * An answer to the room's sync may hold what colleagues wrote while nobody reached the room; late: nobody has shown
   * that what is under strange ids is his.
   */
  readonly kind: 'change' | 'answer' | 'lateAnswer';
}

export interface PrematureDeps {
  limits: Pick<RoomLimits, 'maxEarlyUpdates' | 'maxEarlyBytes'>;
  /** How many clocks of a client id are accepted. */
  reached: (clientId: number) => number;
  /** Whose client id it is; null: nobody's yet. */
  ownerOf: (clientId: number) => string | null;
  /** Who is on the board under this client id, through this server. */
  speakerOf: (clientId: number) => Connection | undefined;
  /** Whether somebody is on the board under this client id, through any server. */
  isHere: (clientId: number) => boolean;
  /** What this waited for came: it is to be judged, ahead of all that still waits. */
  onCame: (connection: Connection, sent: Sent) => void;
  /** What these connections sent needs nothing but each other; false: it is not taken like that. */
  onTogether: (group: ReadonlyMap<Connection, Sent>) => boolean;
  /** What the first of these waited for did not come in time; they wait no more. */
  onOutwaited: (connection: Connection, sent: readonly Sent[], refusal: Refusal | null) => void;
}

interface Kept extends Sent {
  mentions: Mentions | null;
}

interface Waiting {
  sent: Kept[];
  bytes: number;
  /** Of the first; null: it has not been judged, or brings words under ids that are nobody's yet. */
  refusal: Refusal | null;
  patienceMs: number;
  timer: NodeJS.Timeout;
  /** How often the first was tried together with others, in vain. */
  tries: number;
  /** How often it was given as long again, because nothing is read of somebody for now. */
  delays: number;
  /** Its turn comes when nothing holds it any more. */
  isDue: boolean;
}

/** In vain, an update is tried together with others so often at most: each time more of them may be there. */
const maxTries = 4;
/** Because nothing is read of somebody, it is given as long again so often at most. */
const maxDelays = 10;
/** So many times as long as it took to look, nobody looks again: much may wait, and the others go on. */
const shareOfLooking = 4;

/**
 * Connections whose last update rests on what others have not brought yet, with all that they sent after it
 * (R112). Who waits for each other only is taken together.
 */
export class Premature {
  readonly #deps: PrematureDeps;
  readonly #waiting = new Map<Connection, Waiting>();
  /** Ends the wait for the next look; null: none is due. */
  #cancel: (() => void) | null = null;
  /** How long it took to look last, milliseconds. */
  #took = 0;

  constructor(deps: PrematureDeps) {
    this.#deps = deps;
  }

  has(connection: Connection): boolean {
    return this.#waiting.has(connection);
  }

  /** Ahead of all that waits of the connection. `refusal`: what speaks against it until then. */
  wait(connection: Connection, sent: Sent, patienceMs: number, refusal: Refusal | null): void {
    const { sent: rest, bytes } = this.#waiting.get(connection) ?? { sent: [], bytes: 0 };
    this.left(connection);
    this.#waiting.set(connection, {
      sent: [kept(sent), ...rest],
      bytes: bytes + sent.update.byteLength,
      refusal,
      patienceMs,
      timer: this.#timer(connection, patienceMs),
      tries: 0,
      delays: 0,
      isDue: false,
    });
    this.progressed();
  }

  /** Behind what waits already; false: it is more than may wait. */
  keep(connection: Connection, sent: Sent): boolean {
    const waiting = this.#waiting.get(connection);
    if (!waiting) return true;
    const { maxEarlyUpdates, maxEarlyBytes } = this.#deps.limits;
    waiting.bytes += sent.update.byteLength;
    if (waiting.sent.length >= maxEarlyUpdates || waiting.bytes > maxEarlyBytes) return false;
    waiting.sent.push(kept(sent));
    this.progressed();
    return true;
  }

  heldOf(connection: Connection): number {
    return this.#waiting.get(connection)?.bytes ?? 0;
  }

  /** More is accepted, or came. Looked at in a turn of its own, since what comes of it is progress again. */
  progressed(): void {
    if (this.#waiting.size === 0 || this.#cancel) return;
    const look = (): void => {
      this.#cancel = null;
      const begun = performance.now();
      this.#look();
      this.#took = performance.now() - begun;
    };
    const pauseMs = Math.round(this.#took * shareOfLooking);
    if (pauseMs > 0) {
      const timer = setTimeout(look, pauseMs);
      this.#cancel = () => clearTimeout(timer);
    } else {
      const immediate = setImmediate(look);
      this.#cancel = () => clearImmediate(immediate);
    }
  }

  left(connection: Connection): void {
    clearTimeout(this.#waiting.get(connection)?.timer);
    this.#waiting.delete(connection);
  }

  close(): void {
    this.#cancel?.();
    for (const connection of [...this.#waiting.keys()]) this.left(connection);
  }

  #look(): void {
    while (this.#takeAlone());
    this.#takeTogether();
    for (const [connection, waiting] of [...this.#waiting])
      if (this.#isForsaken(waiting)) this.#outwaited(connection, waiting.timer);
  }

  /** Everything that needs nothing but the board; false: there was nothing. */
  #takeAlone(): boolean {
    let hasTaken = false;
    for (const [connection, waiting] of this.#free()) {
      const line = this.#lineOf(connection, waiting.sent.slice(0, 1));
      if (closedLengths([line], this.#deps.reached)[0] !== 1) continue;
      const [first] = waiting.sent as [Kept];
      this.#drop(connection, waiting, 1);
      this.#deps.onCame(connection, first);
      hasTaken = true;
    }
    return hasTaken;
  }

  /** All that needs nothing but each other; if that is not taken, as little of it as one of them needs. */
  #takeTogether(): void {
    const { reached } = this.#deps;
    const free = this.#free();
    const lines = free.map(([connection, { sent }]) => this.#lineOf(connection, sent));
    const lengths = closedLengths(lines, reached);
    for (const [at, [, waiting]] of free.entries()) {
      if (lengths[at] === 0 || waiting.tries >= maxTries) continue;
      waiting.tries += 1;
      const least = neededFor(at, lines, lengths, reached);
      const most = lengths.map((length, place) => ((least[place] ?? 0) > 0 ? length : 0));
      if (!this.#offer(free, most) && !this.#offer(free, least)) continue;
      this.progressed();
      return;
    }
  }

  /** Offers so many frames of each. */
  #offer(free: readonly [Connection, Waiting][], lengths: readonly number[]): boolean {
    const group = free.flatMap(([connection, waiting], place) => {
      const length = lengths[place] ?? 0;
      return length > 0 ? [{ connection, waiting, sent: waiting.sent.slice(0, length) }] : [];
    });
    const parts = new Map(group.map(({ connection, sent }) => [connection, asOne(sent)]));
    if (!this.#deps.onTogether(parts)) return false;
    for (const { connection, waiting, sent } of group) this.#drop(connection, waiting, sent.length);
    return true;
  }

  /** So many of what it sent wait no more; what is left waits as long again. */
  #drop(connection: Connection, waiting: Waiting, length: number): void {
    const taken = waiting.sent.splice(0, length);
    if (waiting.sent.length === 0) {
      this.left(connection);
      return;
    }
    for (const { update } of taken) waiting.bytes -= update.byteLength;
    clearTimeout(waiting.timer);
    waiting.timer = this.#timer(connection, waiting.patienceMs);
    waiting.refusal = null;
    waiting.tries = 0;
    waiting.delays = 0;
  }

  /** Those of whom something may be taken now. */
  #free(): [Connection, Waiting][] {
    return [...this.#waiting].filter(
      ([connection, waiting]) => this.#isFree(connection, waiting) && this.#isKnown(waiting),
    );
  }

  #isFree(connection: Connection, waiting: Waiting): boolean {
    if (!connection.isBusy) return true;
    if (!waiting.isDue) {
      waiting.isDue = true;
      connection.next(() => {
        waiting.isDue = false;
        this.progressed();
      });
    }
    return false;
  }

  /** An answer is whole: what it brings under strange ids may be a colleague's. */
  #isKnown({ sent: [first] }: Waiting): boolean {
    if (first?.kind !== 'answer') return true;
    const writers = first.mentions?.brings.keys() ?? [];
    return [...writers].every((id) => this.#deps.ownerOf(id) !== null);
  }

  /** It builds on words of people who have all left. */
  #isForsaken({ refusal }: Waiting): boolean {
    if (refusal?.code !== 'pending') return false;
    return [...refusal.awaits].every(
      ([id, { clock }]) => clock < this.#deps.reached(id) || !this.#deps.isHere(id),
    );
  }

  #lineOf({ pass: { member } }: Connection, sent: readonly Kept[]): Line {
    return {
      frames: sent.map(({ mentions }) => mentions),
      mayBring: (clientId) => (this.#deps.ownerOf(clientId) ?? member.id) === member.id,
    };
  }

  /** Whether nothing is read for now of somebody whose words are missing here: he may have sent them. */
  #isHeldUp(): boolean {
    const { reached, speakerOf } = this.#deps;
    return [...this.#waiting.values()].some(({ sent }) =>
      sent.some(({ mentions }) =>
        [...(mentions?.needs ?? [])].some(
          ([id, clock]) => clock >= reached(id) && speakerOf(id)?.isBusy,
        ),
      ),
    );
  }

  #timer(connection: Connection, patienceMs: number): NodeJS.Timeout {
    // Once more is read before: after a pause of the whole process it may lie there already.
    const timer = setTimeout(
      () => setImmediate(() => this.#outwaited(connection, timer)),
      patienceMs,
    );
    return timer;
  }

  #outwaited(connection: Connection, timer: NodeJS.Timeout): void {
    const waiting = this.#waiting.get(connection);
    if (waiting?.timer !== timer) return;
    if (waiting.delays < maxDelays && this.#isHeldUp()) {
      waiting.delays += 1;
      waiting.timer = this.#timer(connection, waiting.patienceMs);
      return;
    }
    this.left(connection);
    this.#deps.onOutwaited(connection, waiting.sent, waiting.refusal);
  }
}

const kept = (sent: Sent): Kept => ({ ...sent, mentions: mentionsIfReadable(sent.update) });

const asOne = (sent: readonly Sent[]): Sent => ({
  update: merged(sent.map(({ update }) => update)),
  frames: sent.reduce((sum, { frames }) => sum + frames, 0),
  kind: sent[0]?.kind ?? 'change',
});
