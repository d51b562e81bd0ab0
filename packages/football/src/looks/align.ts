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
  const standing = called.map(({ rule, job }) => {
    const man = men.get(rule.id) ?? null;
    const at = roomBehind(placeOf(rule, picture, man), picture);
    return { rule, job, man, level: rule.level, at };
  });
  const apart = separate(standing, picture.toGoal + 9);
  const nearSlot = nearestToSlots(apart, picture);
  const edges = edgesOf(apart);
  const defenders = apart.map((one): Defender => {
    const { rule, level, at, job, man } = one;
    const about = { level, at, job, man, isEdge: edges.has(one), isNearSlot: nearSlot.has(one) };
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

interface Placed {
  readonly level: Level;
  readonly at: Point;
}

/** Of all eleven, the man nearest each receiver who is not the widest of his side. */
function nearestToSlots<T extends Placed>(men: readonly T[], { receivers }: Picture): Set<T> {
  const slots = [...receivers.strong.slice(1), ...receivers.weak.slice(1)];
  const nearest = new Set<T>();
  for (const slot of slots) {
    const away = men.map((man) => distance(man.at, slot.at));
    const least = Math.min(...away);
    for (const [i, man] of men.entries()) if (away[i] === least) nearest.add(man);
  }
  return nearest;
}

/** The two ends of the front. */
function edgesOf<T extends Placed>(men: readonly T[]): Set<T> {
  const front = men.filter(({ level }) => level === 'line').sort((a, b) => a.at[0] - b.at[0]);
  return new Set([front[0], front.at(-1)].filter((man) => man !== undefined));
}
