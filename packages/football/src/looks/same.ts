import type { Point } from '../geometry.ts';
import type { DefenderId, ReactionId } from '../ids.ts';
import type { AlignedLook, Defender, Move, Reaction } from '../look.ts';
import type { DefenderRule, LookRecipe } from './recipe.ts';

/**
 * What says the same is the same object: a reaction, and a man who stands and may do the same in
 * several looks or has stood so before. Whoever has worked something out about him need not again.
 */
export class Same {
  readonly #reactions = new Map<ReactionId, Reaction[]>();
  readonly #men = new Map<DefenderId, Defender[]>();
  readonly #looks = new Map<AlignedLook['id'], AlignedLook>();

  /** `before`: looks aligned before, to the same formation or another. */
  constructor(before: readonly AlignedLook[] = []) {
    for (const look of before) {
      this.#looks.set(look.id, look);
      for (const man of look.defenders) {
        const known = listOf(this.#men, man.id);
        if (known.includes(man)) continue;
        known.push(man);
        for (const reaction of man.reactions) {
          const others = listOf(this.#reactions, reaction.id);
          if (!others.includes(reaction)) others.push(reaction);
        }
      }
    }
  }

  reaction(id: ReactionId, move: Move, says: string, to: Point): Reaction {
    const known = listOf(this.#reactions, id);
    for (const one of known) {
      if (one.to[0] === to[0] && one.to[1] === to[1] && one.move === move && one.says === says)
        return one;
    }
    const made: Reaction = { id, move, says, to };
    known.push(made);
    return made;
  }

  man({ id, label, level }: DefenderRule, at: Point, reactions: readonly Reaction[]): Defender {
    const known = listOf(this.#men, id);
    for (const one of known) {
      if (
        one.at[0] === at[0] &&
        one.at[1] === at[1] &&
        one.level === level &&
        one.label === label &&
        areSame(one.reactions, reactions)
      )
        return one;
    }
    const made: Defender = { id, label, level, at, reactions };
    known.push(made);
    return made;
  }

  look({ id, name, traits }: LookRecipe, defenders: readonly Defender[]): AlignedLook {
    const before = this.#looks.get(id);
    return before &&
      before.name === name &&
      before.traits === traits &&
      areSame(before.defenders, defenders)
      ? before
      : { id, name, traits, defenders };
  }
}

function listOf<Key, One>(lists: Map<Key, One[]>, key: Key): One[] {
  const before = lists.get(key);
  if (before) return before;
  const now: One[] = [];
  lists.set(key, now);
  return now;
}

function areSame(a: readonly unknown[], b: readonly unknown[]): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}
