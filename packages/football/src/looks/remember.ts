import type { AlignedLook } from '../look.ts';
import type { Play } from '../play.ts';
import { type Picture, pictureOf } from './picture.ts';
import type { LookRecipe } from './recipe.ts';

/** What a look is aligned to: nothing else of a play moves a defender. */
type Formation = Pick<Play, 'players' | 'motions' | 'situation'>;

interface Known extends Pick<Formation, 'motions' | 'situation'> {
  readonly picture: Picture;
  readonly looks: WeakMap<LookRecipe, AlignedLook>;
}

/**
 * Plays are never changed in place, so a formation is known by its parts. An edit of a route or a
 * card leaves them as they were; what nobody holds any more is forgotten.
 */
const known = new WeakMap<Formation['players'], Known>();

function knownOf(play: Play): Known {
  const before = known.get(play.players);
  if (before && before.motions === play.motions && before.situation === play.situation)
    return before;
  const { motions, situation } = play;
  const now: Known = { motions, situation, picture: pictureOf(play), looks: new WeakMap() };
  known.set(play.players, now);
  return now;
}

/** The look as it was aligned to this formation before, or as `align` aligns it now. */
export function remembered(
  recipe: LookRecipe,
  play: Play,
  align: (recipe: LookRecipe, picture: Picture) => AlignedLook,
): AlignedLook {
  const { picture, looks } = knownOf(play);
  const before = looks.get(recipe);
  if (before) return before;
  const now = align(recipe, picture);
  looks.set(recipe, now);
  return now;
}
