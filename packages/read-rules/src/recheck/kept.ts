import type { Keep } from '../keep.ts';
import { shared } from './same.ts';

interface Part {
  /** What it was given; null where it is kept for what it is and not for what it comes from. */
  readonly inputs: readonly unknown[] | null;
  readonly out: unknown;
}

/**
 * What every part of the last check was given and came to. Inputs are compared by identity, which is
 * enough since whatever says the same is passed on as the same object.
 */
export class Kept implements Keep {
  #last = new Map<string, Part>();
  #now = new Map<string, Part>();
  #ran: string[] = [];
  #asked = 0;

  /** A check begins: what the one before last asked, and the last did not, is forgotten. */
  begin(): void {
    this.#last = this.#now;
    this.#now = new Map();
    this.#ran = [];
    this.#asked = 0;
  }

  /** For a check that starts from this one, and leaves it as it is. */
  aside(): Kept {
    const other = new Kept();
    other.#last = this.#now;
    return other;
  }

  /** The parts of this check that had to be run, and how many there were in all. */
  get ran(): readonly string[] {
    return this.#ran;
  }
  get asked(): number {
    return this.#asked;
  }

  of<In extends readonly unknown[], Out>(part: string, work: (...on: In) => Out, ...on: In): Out {
    this.#asked += 1;
    const before = this.#last.get(part);
    if (before?.inputs && areSame(before.inputs, on)) {
      this.#now.set(part, before);
      return before.out as Out;
    }
    this.#ran.push(part);
    const out = work(...on);
    this.#now.set(part, { inputs: on, out });
    return out;
  }

  same<Data>(part: string, data: Data): Data {
    return this.#put(part, shared(this.#last.get(part)?.out, data));
  }

  next<Out>(part: string, work: (before: Out | null) => Out): Out {
    return this.#put(part, work((this.#last.get(part)?.out ?? null) as Out | null));
  }

  list<Member>(part: string, list: readonly Member[]): readonly Member[] {
    const before = this.#last.get(part)?.out as readonly Member[] | undefined;
    return this.#put(part, before && areSame(before, list) ? before : list);
  }

  #put<Out>(part: string, out: Out): Out {
    this.#now.set(part, { inputs: null, out });
    return out;
  }
}

function areSame(a: readonly unknown[], b: readonly unknown[]): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (!Object.is(a[i], b[i])) return false;
  return true;
}
