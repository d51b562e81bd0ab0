import { halfWidth } from '@stemline/football/field';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import type { Condition, ReadCard, Row } from '@stemline/read-rules/card';
import { evaluate, needsKey } from '@stemline/read-rules/evaluate';
import type { FactName } from '@stemline/read-rules/fact-name';
import { facts } from '@stemline/read-rules/facts';
import { type Setting, settingOf } from '@stemline/read-rules/facts/sighting';
import { askedFacts } from '@stemline/read-rules/reasons';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import type { Region } from '@stemline/read-rules/space/region';
import { init, killThreads, Z3_lbool } from 'z3-solver';

/**
 * Questions about a card put to z3 (z3-solver 5.2.0, MIT; L. de Moura and N. Bjørner, "Z3: an efficient
 * SMT solver", TACAS 2008) in SMT-LIB, over the reals. What one man can do on a field is written
 * down here afresh from SPEC.md P2, P3 and P6, with two men who run in straight lines; nothing of the prover is used.
 */
export interface Z3 {
  /**
   * For each formula, whether a defence can show it before this card; null where z3 takes more than a
   * few seconds over one. One call at a time.
   */
  readonly canBe: (
    play: RuledPlay,
    card: ReadCard,
    formulas: readonly string[],
  ) => Promise<boolean[] | null>;
  /** Ends its threads, which would keep the process alive. */
  readonly stop: () => Promise<void>;
}

/** Milliseconds for one question. */
const patience = 3_000;

export async function startZ3(): Promise<Z3> {
  const { Z3, em } = await init();
  return {
    canBe: async (play, card, formulas) => {
      const config = Z3.mk_config();
      Z3.set_param_value(config, 'timeout', String(patience));
      const context = Z3.mk_context(config);
      // Each question hangs on a flag of its own, so that all are read at once.
      const text = [
        ...world(play, card),
        ...formulas.map((formula, i) => `(declare-const q${i} Bool)(assert (=> q${i} ${formula}))`),
      ].join('\n');
      const solver = Z3.mk_solver_for_logic(context, Z3.mk_string_symbol(context, 'QF_NRA'));
      Z3.solver_inc_ref(context, solver);
      Z3.solver_from_string(context, solver, text);
      const bool = Z3.mk_bool_sort(context);
      const answers: boolean[] = [];
      for (const i of formulas.keys()) {
        Z3.solver_push(context, solver);
        const flagged = Z3.mk_const(context, Z3.mk_string_symbol(context, `q${i}`), bool);
        Z3.solver_assert(context, solver, flagged);
        const said = await Z3.solver_check(context, solver);
        if (said === Z3_lbool.Z3_L_UNDEF) break;
        answers.push(said === Z3_lbool.Z3_L_TRUE);
        Z3.solver_pop(context, solver, 1);
      }
      Z3.solver_dec_ref(context, solver);
      Z3.del_context(context);
      return answers.length === formulas.length ? answers : null;
    },
    stop: () => killThreads(em),
  };
}

const number = (n: number): string =>
  n < 0 || Object.is(n, -0) ? `(- ${Math.abs(n).toFixed(12)})` : n.toFixed(12);
const and = (...parts: readonly string[]): string => `(and true ${parts.join(' ')})`;
const or = (...parts: readonly string[]): string => `(or false ${parts.join(' ')})`;
const not = (part: string): string => `(not ${part})`;
const within = (name: string, from: number, to: number): string =>
  `(and (<= ${number(from)} ${name}) (<= ${name} ${number(to)}))`;

/** A variable for each value of an enumerated fact; a Boolean fact is its own. */
const flag = (fact: string, value: string | boolean): string =>
  value === true ? fact : value === false ? not(fact) : `${fact}.${value}`;

function ask(condition: Condition): string {
  if (condition.kind === 'is') return flag(condition.fact, condition.value);
  if (condition.kind === 'oneOf')
    return or(...condition.values.map((value) => flag(condition.fact, value)));
  const { fact, from, to } = condition;
  return and(
    ...(from ? [`(${from.closed ? '>=' : '>'} ${fact} ${number(from.at)})`] : []),
    ...(to ? [`(${to.closed ? '<=' : '<'} ${fact} ${number(to.at)})`] : []),
  );
}

export const fits = ({ conditions }: Row): string => and(...conditions.map(ask));
export const noneFits = (rows: readonly Row[]): string => and(...rows.map((row) => not(fits(row))));
export const bothFit = (a: Row, b: Row): string => and(fits(a), fits(b));
export const isIn = (region: Region): string =>
  and(
    ...region.map((side) =>
      side.kind === 'values'
        ? or(...side.values.map((value) => flag(side.name, value)))
        : ask({ kind: 'range', fact: side.name as FactName, from: side.from, to: side.to }),
    ),
  );
export const fitsOutside = (formula: string, regions: readonly Region[]): string =>
  and(formula, ...regions.map((region) => not(isIn(region))));

/** Every fact as variables, and what the field, the snap and one man's speed make of them. */
function world(play: RuledPlay, card: ReadCard): string[] {
  const setting = settingOf(play, card);
  if (!setting) throw new Error('the scan starts over nobody');
  const asked = askedFacts(card);
  const names = new Set<FactName>([
    ...asked,
    'keyMove',
    'keyRushes',
    'rushers',
    'manOutside',
    'mikeLean',
  ]);
  for (const name of ['keyOffset', 'keyDepth', 'cushion', 'roomInside', 'roomOutside'] as const)
    names.add(name);
  return [
    '(set-logic QF_NRA)',
    ...[...names].flatMap(declared),
    ...settledBy(play, card),
    ...onTheField(setting),
    ...(asked.some(needsKey) ? key(setting) : []),
    ...sideMan(setting, asked.some(needsKey)),
  ];
}

function declared(name: FactName): string[] {
  const { domain } = facts[name];
  if (domain.kind === 'boolean') return [`(declare-const ${name} Bool)`];
  if (domain.kind === 'enumerated') {
    const flags = domain.values.map((value) => flag(name, value));
    const pairs = flags.flatMap((a, i) => flags.slice(i + 1).map((b) => not(and(a, b))));
    return [
      ...flags.map((one) => `(declare-const ${one} Bool)`),
      `(assert ${and(or(...flags), ...pairs)})`,
    ];
  }
  const numbers = Array.from({ length: domain.max - domain.min + 1 }, (_, i) => domain.min + i);
  return [
    `(declare-const ${name} Real)`,
    `(assert ${
      domain.whole
        ? or(...numbers.map((n) => `(= ${name} ${number(n)})`))
        : within(name, domain.min, domain.max)
    })`,
  ];
}

/** What the play settles, as it is measured before any look. */
function settledBy(play: RuledPlay, card: ReadCard): string[] {
  const [recipe] = builtInLooks;
  if (!recipe) throw new Error('the shelf is empty');
  const { facts: known } = evaluate(play, card, alignLook(recipe, play), {});
  return askedFacts(card).flatMap((name) => {
    const value = known[name];
    if (facts[name].hangsOn !== 'play' || value === null) return [];
    return [
      `(assert ${typeof value === 'number' ? `(= ${name} ${number(value)})` : flag(name, value)})`,
    ];
  });
}

const signOf = (x: number, ball: number): number => (x > ball ? -1 : 1);

/** `a` times a variable, plus `b`. */
const linear = (a: number, name: string, b: number): string =>
  `(+ (* ${number(a)} ${name}) ${number(b)})`;

/** Room outside ends at the sideline. */
const onTheField = ({ runner, ball, decision }: Setting): string[] => [
  `(assert (<= roomOutside ${number(halfWidth + signOf(runner.at[0], ball) * decision.at[0])}))`,
];

/**
 * A man called `who`, `offset` inside of the scan's start and `depth` deep at the snap: by the decision
 * he has come `who.x`, `who.y` further, and there he takes room or does not.
 */
function running(
  { start, runner, ball, decision }: Setting,
  who: string,
  { offset, depth, run, rushes }: { offset: string; depth: string; run: number; rushes: string },
): string[] {
  const startSign = signOf(start.at[0], ball);
  const runnerSign = signOf(runner.at[0], ball);
  const [x, y, gap, cushion] = [`${who}.x`, `${who}.y`, `${who}.gap`, `${who}.cushion`];
  const from = linear(runnerSign * startSign, offset, runnerSign * (start.at[0] - decision.at[0]));
  const level = number(5);
  return [
    ...[x, y, gap, cushion].map((name) => `(declare-const ${name} Real)`),
    `(assert (<= (+ (* ${x} ${x}) (* ${y} ${y})) ${number(run * run)}))`,
    `(assert (= ${gap} (+ ${from} ${x})))`,
    `(assert (= ${cushion} (- (+ ${depth} ${y}) ${number(decision.at[1])})))`,
    `(assert (=> ${rushes} (<= ${y} 0.0)))`,
    `(assert (=> (and (not ${rushes}) (<= (- ${level}) ${cushion}) (<= ${cushion} ${level}))
       (and (=> (>= ${gap} 0.0) (<= roomInside ${gap})) (=> (<= ${gap} 0.0) (<= roomOutside (- ${gap}))))))`,
  ];
}

function key(setting: Setting): string[] {
  const { play, card, start, ball, run } = setting;
  const { levels, direction, headUp, reach, maxDepth } = card.head.key;
  const sign = signOf(start.at[0], ball);
  const x = linear(sign, 'keyOffset', start.at[0]);
  const off = linear(sign, 'keyOffset', start.at[0] - ball);
  const [least, most] = direction === 'inside' ? [-headUp, reach] : [-reach, headUp];
  const isWithin = (yards: number): string =>
    and(`(<= ${off} ${number(yards)})`, `(>= ${off} ${number(-yards)})`);
  return [
    `(assert ${within('keyOffset', least, most)})`,
    `(assert (and (<= ${x} ${number(halfWidth)}) (>= ${x} ${number(-halfWidth)})))`,
    `(assert ${within('keyDepth', 0.6, Math.min(maxDepth, play.situation.toGoal + 10))})`,
    ...running(setting, 'key', {
      offset: 'keyOffset',
      depth: 'keyDepth',
      run: Math.max(...levels.map((level) => run[level])),
      rushes: 'keyRushes',
    }),
    '(assert (= cushion key.cushion))',
    '(assert (= keyRushes keyMove.rush))',
    '(assert (=> keyRushes (>= rushers 1.0)))',
    '(assert (=> (not keyRushes) (<= rushers 10.0)))',
    ...(levels.every((level) => level === 'second')
      ? [
          `(assert (=> ${isWithin(0.75)} mikeLean.balanced))`,
          `(assert (=> ${isWithin(3.5)} (not mikeLean.none)))`,
        ]
      : []),
  ];
}

/** The man on the other side, where there is one; he is somebody else than the key. */
function sideMan(setting: Setting, hasKey: boolean): string[] {
  const { width, depth } = setting.card.head.sideMan;
  const [least, most] = setting.card.head.key.direction === 'inside' ? [-width, 0] : [0, width];
  const bounds = `${within('side.offset', least, most)} ${within('side.depth', 0.6, depth)}`;
  const others = hasKey ? '(- rushers (ite keyRushes 1.0 0.0))' : 'rushers';
  return [
    '(declare-const side.offset Real)',
    '(declare-const side.depth Real)',
    '(declare-const side.rushes Bool)',
    ...running(setting, 'side', {
      offset: 'side.offset',
      depth: 'side.depth',
      run: Math.max(...Object.values(setting.run)),
      rushes: 'side.rushes',
    }).map((line) =>
      // Without him, nothing is asked of where he is.
      line
        .replace(/^\(assert /, '(assert (=> manOutside ')
        .replace(/\)$/, line.startsWith('(assert') ? '))' : ')'),
    ),
    `(assert (=> manOutside (and ${bounds} (=> side.rushes (>= ${others} 1.0)))))`,
  ];
}
