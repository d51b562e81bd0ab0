import { distance, type Point } from '../geometry.ts';
import type { AlignedLook, Defender } from '../look.ts';
import type { Play, Player } from '../play.ts';
import { giveMen, type Taker } from './man.ts';
import { holds, type Picture, pictureOf } from './picture.ts';
import { reactionsOf } from './reactions.ts';
import type { DefenderRule, Job, LookRecipe } from './recipe.ts';
import { separate } from './separate.ts';
import { anchorAt, roomBehind, standAt } from './stand.ts';

/**
 * Stands a look before a play as it is at the snap: eleven defenders, apart from each other, on
 * their side of the ball, each with what he may do. Any drawn play gets one, legal or not.
 */
export function alignLook(recipe: LookRecipe, play: Play): AlignedLook {
  const picture = pictureOf(play);
  const called = recipe.defenders.map((rule) => ({ ...rule, job: jobOf(rule, picture) }));
  const men = giveMen(takersAmong(called, picture), picture);
  const standing = called.map((rule) => {
    const man = men.get(rule.id) ?? null;
    return { ...rule, man, at: roomBehind(placeOf(rule, picture, man), picture) };
  });
  const apart = separate(standing, picture.toGoal + 9);
  const nearSlot = nearestToSlots(apart, picture);
  const edges = edgesOf(apart);
  return {
    id: recipe.id,
    name: recipe.name,
    traits: recipe.traits,
    defenders: apart.map((one): Defender => {
      const { id, label, level, at } = one;
      const about = { ...one, isEdge: edges.has(one), isNearSlot: nearSlot.has(one) };
      const reactions = reactionsOf(about, picture).map((reaction) => ({
        ...reaction,
        to: onField(reaction.to, picture),
      }));
      return { id, label, level, at: onField(at, picture), reactions };
    }),
  };
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
const takersAmong = (
  called: readonly (DefenderRule & { readonly job: Job })[],
  picture: Picture,
): Taker[] =>
  called.flatMap(({ id, job, stand }) =>
    job.kind === 'man' ? [{ id, job, home: anchorAt(stand.otherwise, picture)[0] }] : [],
  );

type Placed = DefenderRule & { readonly at: Point };

/** Of all eleven, the man nearest each receiver who is not the widest of his side. */
function nearestToSlots<T extends Placed>(men: readonly T[], { receivers }: Picture): Set<T> {
  const slots = [...receivers.strong.slice(1), ...receivers.weak.slice(1)];
  const nearest = new Set<T>();
  for (const slot of slots) {
    const least = Math.min(...men.map((man) => distance(man.at, slot.at)));
    for (const man of men) if (distance(man.at, slot.at) === least) nearest.add(man);
  }
  return nearest;
}

/** The two ends of the front. */
function edgesOf<T extends Placed>(men: readonly T[]): Set<T> {
  const front = men.filter(({ level }) => level === 'line').sort((a, b) => a.at[0] - b.at[0]);
  return new Set([front[0], front.at(-1)].filter((man) => man !== undefined));
}

/** Back to the field's own right and left, and to centimetres; -0 becomes 0. */
function onField(spot: Point, { turn }: Picture): Point {
  const tidied: Point = [Math.round(spot[0] * 100) / 100, Math.round(spot[1] * 100) / 100];
  return turn(tidied);
}
