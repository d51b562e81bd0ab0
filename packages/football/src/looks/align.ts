import { distance, type Point } from '../geometry.ts';
import type { AlignedLook, Defender, Level } from '../look.ts';
import type { Play, Player } from '../play.ts';
import { giveMen, type Taker } from './man.ts';
import { holds, onField, type Picture } from './picture.ts';
import { reactionsOf } from './reactions.ts';
import type { DefenderRule, Job, LookRecipe } from './recipe.ts';
import { type Ground, remembered, rememberedAll } from './remember.ts';
import { separate } from './separate.ts';
import { anchorAt, roomBehind, standAt } from './stand.ts';

/**
 * Stands a look before a play as it is at the snap: eleven defenders, apart from each other, on
 * their side of the ball, each with what he may do. Any drawn play gets one, legal or not. The same
 * formation and recipe give the same object.
 */
export const alignLook = (recipe: LookRecipe, play: Play): AlignedLook =>
  remembered(recipe, play, align);

/**
 * The whole shelf before a play. Looks, men and reactions that are as they were in `before` are the
 * same objects, and so are men and reactions that two looks share.
 */
export const alignShelf = (
  shelf: readonly LookRecipe[],
  play: Play,
  before: readonly AlignedLook[],
): readonly AlignedLook[] => rememberedAll(shelf, play, align, before);

function align(recipe: LookRecipe, { same, all }: Ground): AlignedLook {
  const { picture } = all;
  const called = recipe.defenders.map((rule): Called => ({ rule, job: jobOf(rule, picture) }));
  const men = giveMen(takersAmong(called, picture), picture);
  const standing = called.map(({ rule, job }): Placed => {
    const man = men.get(rule.id) ?? null;
    const at = roomBehind(placeOf(rule, picture, man), picture);
    return { rule, job, man, level: rule.level, at };
  });
  const apart = separate(standing, picture.toGoal + 9);
  const nearSlot = nearestToSlots(apart, picture);
  const [left, right] = edgesOf(apart);
  const defenders = apart.map((one): Defender => {
    const { rule, level, at, job, man } = one;
    const isEdge = one === left || one === right;
    const about = { level, at, job, man, isEdge, isNearSlot: nearSlot.includes(one) };
    return same.man(rule, onField(at, picture), reactionsOf(about, all));
  });
  return same.look(recipe, defenders);
}

/** A rule with the job that this formation makes of it. */
interface Called {
  readonly rule: DefenderRule;
  readonly job: Job;
}

const jobOf = ({ does }: DefenderRule, picture: Picture): Job =>
  does.rules.find(({ when }) => holds(when, picture))?.job ?? does.otherwise;

function placeOf({ stand }: DefenderRule, picture: Picture, man: Player | null): Point {
  for (const { when, at } of stand.rules) {
    const place = holds(when, picture) ? standAt(at, picture, man) : null;
    if (place) return place;
  }
  return anchorAt(stand.otherwise, picture);
}

/** The man defenders; where each lives is his anchor, before he is given anybody. */
const takersAmong = (called: readonly Called[], picture: Picture): Taker[] =>
  called.flatMap(({ rule: { id, stand }, job }) =>
    job.kind === 'man' ? [{ id, job, home: anchorAt(stand.otherwise, picture)[0] }] : [],
  );

/** Somebody on his spot. */
interface Placed extends Called {
  readonly man: Player | null;
  readonly level: Level;
  readonly at: Point;
}

/** Of all eleven, whoever is nearest to a receiver who is not the widest of his side. */
function nearestToSlots(men: readonly Placed[], { receivers }: Picture): readonly Placed[] {
  const nearest: Placed[] = [];
  for (const side of [receivers.strong, receivers.weak]) {
    for (let slot = 1; slot < side.length; slot++) {
      const { at } = side[slot] as Player;
      let least = Number.POSITIVE_INFINITY;
      for (const man of men) least = Math.min(least, distance(man.at, at));
      for (const man of men) if (distance(man.at, at) === least) nearest.push(man);
    }
  }
  return nearest;
}

/** The two ends of the front. */
function edgesOf(men: readonly Placed[]): readonly (Placed | undefined)[] {
  let [left, right]: (Placed | undefined)[] = [];
  for (const man of men) {
    if (man.level !== 'line') continue;
    if (!left || man.at[0] < left.at[0]) left = man;
    if (!right || man.at[0] >= right.at[0]) right = man;
  }
  return [left, right];
}
