import type { Point } from '@stemline/football/geometry';
import { type DefenderId, defenderIdSchema, lookIdSchema } from '@stemline/football/ids';
import type { LookTraits } from '@stemline/football/look';
import type { DrawnDefender } from '@stemline/football/looks/drawn';
import { recipeFromDrawing } from '@stemline/football/looks/from-drawing';
import { type LookProblem, lookProblems } from '@stemline/football/looks/problems';
import type { DefenderRule, Stand } from '@stemline/football/looks/recipe';
import type { Play } from '@stemline/football/play';
import { alignLook, type LookRecipe } from '@stemline/football/shelf';

/** One man of a look as it is drawn. */
export interface DrawnMan extends DrawnDefender {
  /** The rule that the coach chose for his place; left out, the likeliest is proposed. */
  readonly stand?: Stand;
  /** His rules as they were, kept while nobody has touched him. */
  readonly kept?: DefenderRule;
}

/** A look on its way: what is drawn, and what is said beside it. */
export interface Drawing {
  readonly name: string;
  /** Null: read off the drawing. */
  readonly coverage: LookTraits['coverage'] | null;
  readonly men: readonly DrawnMan[];
}

/** Half a foot: nobody is set to the inch. */
const tidy = (yards: number): number => Math.round(yards * 20) / 20 + 0;
export const tidySpot = ([x, y]: Point): Point => [tidy(x), tidy(y)];

/**
 * A look as it stands before a play, to be drawn on; `keep`: it is this look still, and whoever is not touched
 * keeps his rules. Else only the places are taken over: what it comes to is another look, which has no name yet.
 */
export function drawingOf(recipe: LookRecipe, play: Play, keep: boolean): Drawing {
  const { defenders } = alignLook(recipe, play);
  return {
    name: keep ? recipe.name : '',
    coverage: keep ? recipe.traits.coverage : null,
    men: recipe.defenders.map((rule, i): DrawnMan => {
      const { id, label, level } = rule;
      const at = defenders[i]?.at ?? [0, 5];
      return keep ? { id, label, level, at, kept: rule } : { id, label, level, at };
    }),
  };
}

/** What a man of a drawing becomes when the coach has touched him: no rule of before speaks for him. */
export function touched(man: DrawnMan, change: Partial<DrawnDefender>): DrawnMan {
  const { kept, stand, ...drawn } = man;
  const does = man.does ?? kept?.does.otherwise;
  const moved = change.at !== undefined || change.level !== undefined;
  return {
    ...drawn,
    ...(does ? { does } : {}),
    ...(!moved && stand ? { stand } : {}),
    ...change,
  };
}

export const withMan = (drawing: Drawing, id: DefenderId, man: DrawnMan): Drawing => ({
  ...drawing,
  men: drawing.men.map((one) => (one.id === id ? man : one)),
});

/** One more, in the first free place behind the linebackers. */
export function oneMore(drawing: Drawing, ball: number): Drawing {
  const taken = new Set<string>(drawing.men.map(({ id }) => id));
  let number = drawing.men.length + 1;
  while (taken.has(`d${number}`)) number += 1;
  let y = 9;
  while (drawing.men.some(({ at }) => Math.hypot(at[0] - ball, at[1] - y) < 1.5)) y += 1.5;
  const man: DrawnMan = {
    id: defenderIdSchema.parse(`d${number}`),
    label: 'D',
    level: 'second',
    at: [ball, y],
  };
  return { ...drawing, men: [...drawing.men, man] };
}

/** The rules that the drawing shows. Takes any drawing; what `problemsOf` says decides whether it may be kept. */
export function recipeOf(drawing: Drawing, play: Play, id: string): LookRecipe {
  const { men, coverage } = drawing;
  const chosen = men.flatMap(({ id: man, stand }) => (stand ? [[man, stand] as const] : []));
  const recipe = recipeFromDrawing(
    play,
    men.map(({ kept, stand: _, ...man }) =>
      kept ? { ...man, does: man.does ?? kept.does.otherwise } : man,
    ),
    {
      id: lookIdSchema.parse(id),
      name: drawing.name.trim() === '' ? 'Look' : drawing.name.trim(),
      stands: Object.fromEntries(chosen),
      ...(coverage ? { traits: { coverage } } : {}),
    },
  );
  return { ...recipe, defenders: recipe.defenders.map((rule, i) => men[i]?.kept ?? rule) };
}

/** "2.5 yd right of the ball, 5.0 yd deep". */
export function placeWords([x, y]: Point, ball: number): string {
  const side = Math.abs(x - ball) < 0.05 ? 'over the ball' : null;
  const across =
    side ?? `${Math.abs(x - ball).toFixed(1)} yd ${x > ball ? 'right' : 'left'} of the ball`;
  return `${across}, ${y.toFixed(1)} yd deep`;
}

export interface Trouble {
  /** Whom it is about; null: the look as a whole. */
  readonly man: DefenderId | null;
  readonly says: string;
}

/** What keeps a drawing from being a defence, with the place. */
export const problemsOf = ({ men }: Drawing, ball: number): readonly Trouble[] =>
  lookProblems({ defenders: men }).map((problem): Trouble => {
    const man = manOf(problem, men);
    const place = man && problem.code !== 'twoDefendersOneId' ? placeWords(man.at, ball) : null;
    return {
      man: man?.id ?? null,
      says: `${problem.says}${place ? ` Place: ${place}.` : ''} ${problem.mend}`,
    };
  });

function manOf({ path }: LookProblem, men: readonly DrawnMan[]): DrawnMan | undefined {
  const [, index] = path;
  return typeof index === 'number' ? men[index] : undefined;
}

export const followsWords = {
  receiver: 'follows the receiver',
  line: 'follows the line',
  formation: 'follows the formation',
  field: 'is fixed to the ball and the field',
} as const;
