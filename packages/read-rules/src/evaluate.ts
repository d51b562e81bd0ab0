import type { AlignedLook, ReactionChoice } from '@stemline/football/look';
import type { Play } from '@stemline/football/play';
import type { Branch, BranchId, Condition, ReadCard, Row } from './card.ts';
import type { FactName } from './fact-name.ts';
import type { Facts, FactValue } from './facts/declaration.ts';
import { type Sighting, settingOf, sightingOf } from './facts/sighting.ts';
import { factNames, facts } from './facts.ts';
import type { KeyResult } from './key.ts';
import { type Outcome, reasonsFor } from './reasons.ts';

export interface Evaluation extends Outcome {
  /** Why, in a coach's words, one sentence each. */
  readonly reasons: readonly string[];
}

/** Facts that mean nothing without a key. */
export const needsKey = (name: FactName): boolean => facts[name].hangsOn === 'key';

/** Whether any row asks about the key. A card that never does is read whether or not there is one. */
export const readsKey = (card: ReadCard): boolean =>
  card.rows.some(({ conditions }) => conditions.some(({ fact }) => needsKey(fact)));

/** What a card says of one look and one choice of reactions. */
export function evaluate(
  play: Play,
  card: ReadCard,
  look: AlignedLook,
  reactions: ReactionChoice,
): Evaluation {
  const setting = settingOf(play, card);
  const sighting = setting && sightingOf(setting, look, reactions);
  const measured = measureAll(sighting);
  const key: KeyResult = sighting?.selected ?? { kind: 'none' };
  const fits = sighting ? rowsThatFit(card, measured) : [];
  const answer = answerOf(card, key, fits);
  const head = { key, facts: measured, fits: fits.map(({ id }) => id), ...answer };
  return { ...head, reasons: reasonsFor(card, sighting, head) };
}

const measureAll = (sighting: Sighting | null): Facts =>
  Object.fromEntries(
    factNames.map((name) => [name, sighting && facts[name].measure(sighting)]),
  ) as Facts;

/** The named facts alone; nothing else is measured. */
export function measureAsked(sighting: Sighting, names: readonly FactName[]): Partial<Facts> {
  const measured: { [name in FactName]?: FactValue | null } = {};
  for (const name of names) measured[name] = facts[name].measure(sighting);
  return measured;
}

export const rowsThatFit = (card: ReadCard, known: Partial<Facts>): readonly Row[] =>
  card.rows.filter((row) => row.conditions.every((condition) => meets(condition, known)));

/** Whether a fact meets what a row asks of it; an unknown fact meets nothing. */
export const meets = (condition: Condition, known: Partial<Facts>): boolean =>
  meetsValue(condition, known[condition.fact] ?? null);

export function meetsValue(condition: Condition, value: FactValue | null): boolean {
  if (value === null) return false;
  switch (condition.kind) {
    case 'is':
      return value === condition.value;
    case 'oneOf':
      return typeof value === 'string' && condition.values.includes(value);
    case 'range': {
      const { from, to } = condition;
      return (
        typeof value === 'number' &&
        (!from || value > from.at || (from.closed && value === from.at)) &&
        (!to || value < to.at || (to.closed && value === to.at))
      );
    }
  }
}

/** The branches that rows lead to, each once, as the players say them. */
export const branchNames = (card: ReadCard, rows: readonly Row[]): readonly string[] => [
  ...new Set(rows.map(({ branch }) => branchOf(card, branch)?.name ?? 'a branch that is gone')),
];

/** From what fits to what answers: the hit policy, then when in doubt. */
export function answerOf(
  card: ReadCard,
  key: KeyResult,
  fits: readonly Row[],
): Pick<Outcome, 'row' | 'branch' | 'torn'> {
  const { head } = card;
  if (key.kind === 'none' && head.noKey !== null) {
    return { row: 'noKey', branch: branchOf(card, head.noKey), torn: [] };
  }
  const cannotTell = key.kind !== 'one' && readsKey(card);
  const hit = cannotTell ? null : hitOf(card, fits);
  if (hit) return { row: hit.id, branch: branchOf(card, hit.branch), torn: [] };
  // Several rows that disagree are a clash, not a doubt that the card has answered.
  if (!cannotTell && fits.length > 0) return { row: null, branch: null, torn: fits };
  return head.whenInDoubt === null
    ? { row: null, branch: null, torn: [] }
    : { row: 'whenInDoubt', branch: branchOf(card, head.whenInDoubt), torn: [] };
}

/** `first`: the first that fits. `unique`: the one that fits, or the first of several that agree. */
function hitOf({ head }: ReadCard, fits: readonly Row[]): Row | null {
  const [first] = fits;
  if (!first) return null;
  if (head.policy === 'first') return first;
  return fits.every(({ branch }) => branch === first.branch) ? first : null;
}

export const branchOf = (card: ReadCard, id: BranchId | null): Branch | null =>
  card.branches.find((branch) => branch.id === id) ?? null;
