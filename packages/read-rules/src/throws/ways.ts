import type { AlignedLook, Defender, Reaction, ReactionChoice } from '@stemline/football/look';

/** A look as called, or with one man doing something else. */
export interface Way {
  readonly look: AlignedLook;
  readonly reactions: ReactionChoice;
  /** Everybody does what the call asks of him. */
  readonly called: boolean;
  /** Who does something else: his place in the look, and the number of his reaction; −1 and 0 as called. */
  readonly man: number;
  readonly does: number;
}

/** The ways of one look; the same one is always the same object. */
class Ways {
  readonly #look: AlignedLook;
  readonly called: Way;
  readonly #others: (Way | undefined)[][] = [];

  constructor(look: AlignedLook) {
    this.#look = look;
    this.called = { look, reactions: {}, called: true, man: -1, does: 0 };
  }

  when(man: number, does: number): Way {
    let his = this.#others[man];
    if (!his) {
      his = [];
      this.#others[man] = his;
    }
    his[does] ??= this.#made(man, does);
    return his[does];
  }

  #made(man: number, does: number): Way {
    const { id, reactions } = this.#look.defenders[man] as Defender;
    const { id: reaction } = reactions[does] as Reaction;
    return { look: this.#look, reactions: { [id]: reaction }, called: false, man, does };
  }
}

const known = new WeakMap<AlignedLook, Ways>();

export function waysOf(look: AlignedLook): Ways {
  const before = known.get(look);
  if (before) return before;
  const now = new Ways(look);
  known.set(look, now);
  return now;
}
