import type { AlignedLook } from '../look.ts';
import { type Formation, isThere } from '../per-formation.ts';
import { pictureOf } from './picture.ts';
import type { LookRecipe } from './recipe.ts';
import { Repertoire } from './repertoire.ts';
import { Same } from './same.ts';

/** What the looks before one formation share. */
export interface Ground {
  readonly all: Repertoire;
  readonly same: Same;
}

type Align = (recipe: LookRecipe, ground: Ground) => AlignedLook;

interface Known extends Pick<Formation, 'motions' | 'situation'> {
  readonly ground: Ground;
  readonly looks: WeakMap<LookRecipe, AlignedLook>;
}

/**
 * Plays are never changed in place, so a formation is known by its parts. An edit of a route or a
 * card leaves them as they were; what nobody holds any more is forgotten.
 */
const known = new WeakMap<Formation['players'], Known>();

function knownOf(play: Formation, like: readonly AlignedLook[]): Known {
  const before = known.get(play.players);
  const { motions, situation } = play;
  if (before && isThere(before, motions, situation)) return before;
  const same = new Same(like);
  const ground: Ground = { all: new Repertoire(pictureOf(play), same), same };
  const now: Known = { motions, situation, ground, looks: new WeakMap() };
  known.set(play.players, now);
  return now;
}

function lookOf({ ground, looks }: Known, recipe: LookRecipe, align: Align): AlignedLook {
  const before = looks.get(recipe);
  if (before) return before;
  const now = align(recipe, ground);
  looks.set(recipe, now);
  return now;
}

/** The look as it was aligned to this formation before, or as `align` aligns it now. */
export const remembered = (recipe: LookRecipe, play: Formation, align: Align): AlignedLook =>
  lookOf(knownOf(play, []), recipe, align);

/** The same for a shelf; a formation that is new takes over what it has in common with `like`. */
export function rememberedAll(
  shelf: readonly LookRecipe[],
  play: Formation,
  align: Align,
  like: readonly AlignedLook[],
): readonly AlignedLook[] {
  const formation = knownOf(play, like);
  return shelf.map((recipe) => lookOf(formation, recipe, align));
}
