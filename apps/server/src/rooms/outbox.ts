import { Buffer } from 'node:buffer';
import type { Duplex } from 'node:stream';
import type { Packed } from './packed.ts';

/** Past this, joining what waits costs more than handing it over piece by piece. */
const maxJoinedBytes = 65_536;

/** What waits for one line until the end of the turn. */
export class Outlet {
  readonly #line: Duplex;
  readonly #outbox: Outbox;
  #waiting: Packed[] | null = null;
  #bytes = 0;

  constructor(line: Duplex, outbox: Outbox) {
    this.#line = line;
    this.#outbox = outbox;
  }

  /** Bytes that the line has not taken yet. */
  get lag(): number {
    return this.#bytes + this.#line.writableLength;
  }

  write(frame: Packed): void {
    if (this.#waiting) this.#waiting.push(frame);
    else {
      this.#waiting = [frame];
      this.#outbox.flushSoon(this);
    }
    this.#bytes += frame.byteLength;
  }

  /** Hands over at once, behind everything that waits; `sent`: the line has taken it, or has ended. */
  writeNow(frame: Packed, sent: () => void): void {
    this.flush();
    if (this.#line.writable) this.#line.write(frame, sent);
    else sent();
  }

  flush(): void {
    const frames = this.#waiting;
    const bytes = this.#bytes;
    if (!frames) return;
    this.#waiting = null;
    this.#bytes = 0;
    // The other end may have hung up meanwhile; the close event follows.
    if (!this.#line.writable) return;
    const [only] = frames;
    if (frames.length === 1) this.#line.write(only);
    else if (bytes <= maxJoinedBytes) this.#line.write(Buffer.concat(frames, bytes));
    else {
      this.#line.cork();
      for (const frame of frames) this.#line.write(frame);
      this.#line.uncork();
    }
  }
}

/**
 * Gathers what is said within one turn of the event loop, so that each line is written to once: a
 * system call costs more than everything else about a message. A message of its own is one frame
 * all the same, and nothing waits longer than what was read together takes.
 */
export class Outbox {
  #outlets: Outlet[] = [];
  #lastWords: (() => void)[] = [];
  #isDue = false;

  /** Runs before the turn's lines are written: what is to be gathered itself is said there. */
  atEndOfTurn(say: () => void): void {
    this.#lastWords.push(say);
    this.#soon();
  }

  flushSoon(outlet: Outlet): void {
    this.#outlets.push(outlet);
    this.#soon();
  }

  #soon(): void {
    if (this.#isDue) return;
    this.#isDue = true;
    setImmediate(() => this.flush());
  }

  /** Everything that waits goes out now. */
  flush(): void {
    const lastWords = this.#lastWords;
    this.#lastWords = [];
    for (const say of lastWords) say();
    // Not before: what was said just now goes out with the rest, and needs no turn of its own.
    this.#isDue = false;
    const outlets = this.#outlets;
    this.#outlets = [];
    for (const outlet of outlets) outlet.flush();
  }
}
