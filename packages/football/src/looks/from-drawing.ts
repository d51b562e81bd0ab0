import { distance } from '../geometry.ts';
import type { DefenderId } from '../ids.ts';
import type { LookTraits } from '../look.ts';
import type { Play } from '../play.ts';
import { alignLook } from './align.ts';
import type { DrawnDefender, DrawnLook } from './drawn.ts';
import { type Explanation, explain, explainedWithin, isAnchor } from './explain.ts';
import { type Picture, pictureOf } from './picture.ts';
import type { DefenderRule, Flank, Job, LookRecipe, Stand, Target, Zone } from './recipe.ts';

/** What a coach says beside the drawing. */
export interface DrawingHints extends Pick<DrawnLook, 'id' | 'name' | 'traits'> {
  /** The rule he chose for a man where several explain his place (`explanationsOf`). */
  readonly stands?: Readonly<Partial<Record<DefenderId, Stand>>>;
}

/** Two men this near could be told apart by a rule that is a little off. Yards. */
const close = 2;

/**
 * The rule by example: for each man drawn the likeliest rule that puts him there, and for where it
 * finds nobody a place that needs nobody. Aligned to the same play again, every man stands within a
 * quarter of a yard of where he was drawn: where rules that are a little off would push two men
 * apart, those men get exact ones. Takes a drawing without problems (`lookProblems`) whose men stand
 * at least `elbowRoom` apart and have room behind them.
 */
export function recipeFromDrawing(
  play: Play,
  defenders: readonly DrawnDefender[],
  hints: DrawingHints,
): LookRecipe {
  const picture = pictureOf(play);
  const traits = traitsOf(defenders, picture, hints.traits ?? {});
  const build = (exact: ReadonlySet<DefenderId>): LookRecipe => ({
    id: hints.id,
    name: hints.name,
    traits,
    defenders: defenders.map((man) =>
      ruleOf(man, traits, picture, exact.has(man.id), hints.stands?.[man.id]),
    ),
  });
  const likeliest = build(new Set());
  const moved = movedMen(likeliest, play, defenders);
  if (moved.length === 0) return likeliest;
  const near = defenders.filter((man) => moved.some(({ at }) => distance(at, man.at) <= close));
  const settled = build(new Set(near.map(({ id }) => id)));
  return movedMen(settled, play, defenders).length === 0
    ? settled
    : build(new Set(defenders.map(({ id }) => id)));
}

/** Who would stand somewhere else than he was drawn. */
function movedMen(
  recipe: LookRecipe,
  play: Play,
  drawn: readonly DrawnDefender[],
): readonly DrawnDefender[] {
  const { defenders } = alignLook(recipe, play);
  return drawn.filter(({ at }, i) => {
    const stands = defenders[i]?.at;
    return !stands || distance(stands, at) > explainedWithin;
  });
}

function ruleOf(
  man: DrawnDefender,
  traits: LookTraits,
  picture: Picture,
  exact: boolean,
  chosen: Stand | undefined,
): DefenderRule {
  const all = explain(man, picture);
  const usable = exact ? all.filter(({ off }) => off < 1e-6) : all;
  const job = man.does ?? usualJob(man, traits, picture);
  const same = usable.find(({ at }) => JSON.stringify(at) === JSON.stringify(chosen));
  const best = exact ? (same ?? usable[0])?.at : (chosen ?? withHisMan(usable[0], job, picture));
  const anchor = usable.map(({ at }) => at).find(isAnchor);
  const { id, label, level } = man;
  const otherwise = best && isAnchor(best) ? best : (anchor ?? lastResort(man, picture));
  return {
    id,
    label,
    level,
    stand: {
      rules: best && !isAnchor(best) ? [{ when: {}, at: best }] : [],
      otherwise,
    },
    does: { rules: [], otherwise: job },
  };
}

/** A man who takes the receiver he stands over follows him, whoever it turns out to be. */
function withHisMan(best: Explanation | undefined, job: Job, picture: Picture): Stand | undefined {
  const stand = best?.at;
  if (stand?.kind !== 'over' || job.kind !== 'man' || Math.abs(stand.inside) > 4) return stand;
  const first = job.takes[0];
  return first === `${stand.side}${stand.receiver}` && picture.receivers[stand.side].length > 0
    ? { kind: 'onMan', inside: stand.inside, depth: stand.depth }
    : stand;
}

function lastResort({ at }: DrawnDefender, picture: Picture): DefenderRule['stand']['otherwise'] {
  const [x, depth] = picture.turn(at);
  const side: Flank = x >= picture.ball ? 'strong' : 'weak';
  return { kind: 'fromBall', side, yards: Math.abs(x - picture.ball), depth };
}

/** What is said of the look as a whole, and for the rest what the drawing shows. */
function traitsOf(
  defenders: readonly DrawnDefender[],
  picture: Picture,
  said: NonNullable<DrawnLook['traits']>,
): LookTraits {
  const nose = defenders.some(
    ({ level, at }) => level === 'line' && Math.abs(picture.turn(at)[0] - picture.ball) <= 0.3,
  );
  const deep = defenders.filter(({ level }) => level === 'deep').length;
  const shell = said.shell ?? (deep === 0 ? 'zero' : deep === 1 ? 'oneHigh' : 'twoHigh');
  return {
    front: said.front ?? (nose ? 'odd' : 'even'),
    shell,
    middle: said.middle ?? (shell === 'oneHigh' ? 'closed' : 'open'),
    coverage: said.coverage ?? (shell === 'zero' ? 'man' : 'zone'),
  };
}

/** What a man of his level on his spot usually does in such a look. Common practice, no single source. */
function usualJob(
  { level, at }: DrawnDefender,
  { shell, coverage }: LookTraits,
  picture: Picture,
): Job {
  const [x] = picture.turn(at);
  const side: Flank = x >= picture.ball ? 'strong' : 'weak';
  const outside = Math.abs(x - picture.ball) > picture.line[side].edge + 1;
  const zone = (name: Zone): { kind: 'zone'; zone: Zone; side: Flank } => ({
    kind: 'zone',
    zone: name,
    side,
  });
  if (level === 'line') return { kind: 'rush' };
  if (level === 'deep') return zone(shell === 'oneHigh' ? 'middleThird' : 'half');
  if (coverage === 'man')
    return { kind: 'man', takes: nearestTargets(x, picture), free: zone('hook') };
  if (level === 'corner') return zone(shell === 'oneHigh' ? 'third' : 'flat');
  return zone(outside && shell === 'oneHigh' ? 'curlFlat' : 'hook');
}

/** Receivers and backs by how near they stand across the field. */
function nearestTargets(x: number, { receivers, backs }: Picture): Target[] {
  const named: { readonly name: Target; readonly away: number }[] = [
    ...(['strong1', 'strong2', 'strong3', 'strong4'] as const).flatMap((name, i) =>
      awayFrom(name, receivers.strong[i]?.at[0], x),
    ),
    ...(['weak1', 'weak2', 'weak3'] as const).flatMap((name, i) =>
      awayFrom(name, receivers.weak[i]?.at[0], x),
    ),
    ...(['back1', 'back2'] as const).flatMap((name, i) => awayFrom(name, backs[i]?.at[0], x)),
  ];
  const targets = named.sort((a, b) => a.away - b.away).map(({ name }) => name);
  return targets.length > 0 ? targets : ['back1'];
}

const awayFrom = (name: Target, at: number | undefined, x: number) =>
  at === undefined ? [] : [{ name, away: Math.abs(at - x) }];
