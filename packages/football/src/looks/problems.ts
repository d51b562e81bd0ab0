import { halfWidth } from '../field.ts';
import { distance, type Point } from '../geometry.ts';
import type { DefenderId } from '../ids.ts';
import type { LookRecipe } from './recipe.ts';

/** Something that keeps a look from being a defence, where it is, and what to do. */
export interface LookProblem {
  readonly code:
    | 'notEleven'
    | 'twoDefendersOneId'
    | 'notANumber'
    | 'offside'
    | 'offField'
    | 'samePlace'
    | 'sameRule';
  /** From the look down, as keys and indices. */
  readonly path: readonly (string | number)[];
  readonly says: string;
  readonly mend: string;
}

interface Man {
  readonly id: DefenderId;
  readonly label: string;
}
interface Standing extends Man {
  readonly at: Point;
}

/** Men of a defence on a side. */
const eleven = 11;

/**
 * Width of the neutral zone, the length of the ball: 11 in, 11 to 11 1/4 by the professional book
 * (rule 2) and 10 7/8 to 11 7/16 by the college one (1-3-1, second hand). Yards.
 */
const neutralZone = 11 / 36;

/** Two men whose middles are nearer than this stand in one place. Yards. */
const onePlace = 0.5;

/**
 * What a look as it stands before a play has against it: ten or twelve men, one twice, somebody
 * offside, off the field or where another stands. Empty: it is a defence. Never throws.
 */
export function lookProblems(look: { readonly defenders: readonly Standing[] }): LookProblem[] {
  const { defenders } = look;
  const numbers = defenders.flatMap(({ label, at }, i) =>
    at.every(Number.isFinite)
      ? []
      : [problem('notANumber', ['defenders', i, 'at'], `${label} stands nowhere.`, 'Place him.')],
  );
  return [
    ...menOnce(defenders),
    ...numbers,
    ...defenders.flatMap(whereHeStands),
    ...together(
      defenders,
      (a, b) => distance(a.at, b.at) < onePlace,
      ['at'],
      ['samePlace', 'stand in one place.', 'Move one of them at least half a yard.'],
    ),
  ];
}

/** What a look's rules have against them before any play is seen: the count, and two men on one rule. */
export const recipeProblems = ({ defenders }: Pick<LookRecipe, 'defenders'>): LookProblem[] => [
  ...menOnce(defenders),
  ...together(
    defenders,
    (a, b) => JSON.stringify(a.stand) === JSON.stringify(b.stand),
    ['stand'],
    ['sameRule', 'are placed by the same rule.', 'Give one of them a place of his own.'],
  ),
];

function menOnce(men: readonly Man[]): LookProblem[] {
  const found = men.flatMap(({ id, label }, i) => {
    const first = men.findIndex((man) => man.id === id);
    return first === i
      ? []
      : [
          problem(
            'twoDefendersOneId',
            ['defenders', i, 'id'],
            `${label} has the id ${id}, as ${men[first]?.label} has.`,
            'Give each defender an id of his own.',
          ),
        ];
  });
  return men.length === eleven
    ? found
    : [
        problem(
          'notEleven',
          ['defenders'],
          `The look has ${men.length} men; a defense has ${eleven}.`,
          men.length > eleven ? 'Take out a man.' : 'Add the man who is missing.',
        ),
        ...found,
      ];
}

function whereHeStands({ label, at: [x, y] }: Standing, i: number): LookProblem[] {
  const path = ['defenders', i, 'at'];
  if (y < neutralZone)
    return [
      problem(
        'offside',
        path,
        `${label} is offside: he stands ${y < 0 ? 'over the line' : 'in the neutral zone'}.`,
        'Move him back to his side of the ball.',
      ),
    ];
  return Math.abs(x) > halfWidth
    ? [problem('offField', path, `${label} is out of bounds.`, 'Move him inside the sideline.')]
    : [];
}

/** The later of each two men for whom something holds that may hold of one only. */
function together<M extends Man>(
  men: readonly M[],
  clash: (a: M, b: M) => boolean,
  place: readonly string[],
  [code, says, mend]: readonly [LookProblem['code'], string, string],
): LookProblem[] {
  return men.flatMap((man, i) => {
    const other = men.slice(0, i).find((one) => clash(one, man));
    return other
      ? [problem(code, ['defenders', i, ...place], `${other.label} and ${man.label} ${says}`, mend)]
      : [];
  });
}

const problem = (
  code: LookProblem['code'],
  path: LookProblem['path'],
  says: string,
  mend: string,
): LookProblem => ({ code, path, says, mend });
