import type { Branch, Condition, ReadCard, Row, RowId } from '../card.ts';
import { rowIdSchema } from '../card.ts';
import { branchOf } from '../evaluate.ts';
import type { FactName } from '../fact-name.ts';
import { factSpace } from '../fact-space.ts';
import { factNames, facts } from '../facts.ts';
import { hash } from '../findings/finding-id.ts';
import { leadsTo, type OnCard, rowName } from '../findings/on-card.ts';
import { readerOf } from '../reader.ts';
import { capital } from '../reasons.ts';
import { describeRegion } from '../sentence.ts';
import type { Domain } from '../space/column.ts';
import { holds, type Region, regionText, type Side } from '../space/region.ts';
import type { Mend } from './mend.ts';
import { askedBy, both, conditionOfSide, conditionOn, isEmpty, less } from './side.ts';

/** Branches that are offered for one gap, those of the nearest rows first. */
const mostBranches = 4;
/** Rows that one may be split into; more than these no coach wants to read. */
const mostPieces = 3;
const mostConditions = 12;

/**
 * The row to add for a gap: it asks for the gap and nothing else, once for each branch it may lead to.
 * Where its reader could not see what the row would ask, what he does when in doubt.
 */
export function mendsForGap(on: OnCard, region: Region): Mend[] {
  const rows = rowsForGap(on, region);
  return rows.length > 0 ? rows : defaults(on);
}

function rowsForGap(on: OnCard, region: Region): Mend[] {
  const { card } = on;
  const sides = region.filter((side) => !side.whole);
  const conditions = sides.map(conditionOfSide);
  if (conditions.length > mostConditions || !canSee(on, conditions)) return [];
  const id = freeRowId(card, `gap-${hash(regionText(region))}`);
  const when = describeRegion(card, region);
  return nearestBranches(on, sides)
    .slice(0, mostBranches)
    .map((branch) => ({
      do: 'addRow',
      player: card.player,
      says: capital(`${when ? `when ${when}` : 'whatever he sees'}: ${branch.name}.`),
      row: { id, conditions, branch: branch.id, says: '' },
    }));
}

function nearestBranches({ play, card }: OnCard, sides: readonly Side[]): Branch[] {
  const misses = (row: Row): number =>
    sides.filter((side) => !row.conditions.some((asked) => meetsSide(asked, side))).length;
  const far = (branch: Branch): number =>
    Math.min(...card.rows.filter((row) => row.branch === branch.id).map(misses), sides.length + 1);
  return card.branches
    .filter((branch) => canBeMeant(play, branch))
    .map((branch) => ({ branch, far: far(branch) }))
    .sort((a, b) => a.far - b.far)
    .map(({ branch }) => branch);
}

/** A throw to a man who has nothing to run would be the next finding. */
const canBeMeant = (play: OnCard['play'], branch: Branch): boolean =>
  branch.kind !== 'target' || play.routes[branch.player] !== undefined;

function meetsSide(asked: Condition, side: Side): boolean {
  if (asked.fact !== side.name) return false;
  switch (asked.kind) {
    case 'is':
      return holds(side, asked.value);
    case 'oneOf':
      return asked.values.some((value) => holds(side, value));
    case 'range':
      return (
        side.kind === 'interval' &&
        !isEmpty(
          both(
            { kind: 'interval', from: side.from, to: side.to },
            { kind: 'interval', from: asked.from ?? side.from, to: asked.to ?? side.to },
          ),
        )
      );
  }
}

/** Two rows that fit at once: either left to answer alone, or the order left to settle it. */
export function mendsForClash(on: OnCard, rows: readonly Row[], agree: boolean): Mend[] {
  const { card } = on;
  const [a, b, more] = rows;
  if (!a || !b) return [];
  const narrowed = more ? [] : [...narrow(on, b, a), ...narrow(on, a, b)];
  if (agree) return narrowed;
  const names = rows.map((row) => rowName(card, row.id));
  return [
    ...narrowed,
    {
      do: 'setPolicy',
      player: card.player,
      policy: 'first',
      says: `Let the first row that fits decide: ${names[0]} then answers before ${names[1]}.`,
    },
  ];
}

/** What `row` says wherever `other` does not fit, and nothing else. */
function narrow(on: OnCard, row: Row, other: Row): Mend[] {
  const { card } = on;
  const pieces = without(on, row, other);
  const [first, ...rest] = pieces;
  if (!first || pieces.length > mostPieces) return [];
  if (pieces.some((one) => one.length > mostConditions || !canSee(on, one))) return [];
  const also = rest.map((conditions, i) => ({
    ...row,
    id: freeRowId(card, `${row.id.slice(0, 30)}-${i + 2}`),
    conditions,
  }));
  return [
    {
      do: 'narrowRow',
      player: card.player,
      row: row.id,
      conditions: first,
      also,
      says: `Narrow ${rowName(card, row.id)} so that ${rowName(card, other.id)} alone answers where both fit: ${leadsTo(card, other)} there${also.length > 0 ? `; it takes ${pieces.length} rows to say so` : ''}.`,
    },
  ];
}

/** The conditions of a row with those of another cut out, as rows apart from each other. */
function without({ play, card }: OnCard, row: Row, other: Row): (readonly Condition[])[] {
  const { axes } = factSpace(play, card);
  const domainOf = (fact: FactName): Domain =>
    axes.find(({ name }) => name === fact)?.domain ?? facts[fact].domain;
  const asked = new Set(other.conditions.map(({ fact }) => fact));
  const pieces: (readonly Condition[])[] = [];
  let rest = row;
  for (const fact of factNames.filter((name) => asked.has(name))) {
    const domain = domainOf(fact);
    const mine = askedBy(rest, fact, domain);
    const theirs = askedBy(other, fact, domain);
    for (const part of less(mine, theirs)) {
      pieces.push(asking(rest, fact, conditionOn(fact, part, domain)));
    }
    const shared = both(mine, theirs);
    if (isEmpty(shared)) return [row.conditions];
    rest = { ...rest, conditions: asking(rest, fact, conditionOn(fact, shared, domain)) };
  }
  return pieces;
}

/** The row's conditions with another one on this fact, where it stood before or else at the end. */
function asking({ conditions }: Row, fact: FactName, condition: Condition): readonly Condition[] {
  const at = conditions.findIndex((one) => one.fact === fact);
  const isOpen = condition.kind === 'range' && !condition.from && !condition.to;
  const put = isOpen ? [] : [condition];
  if (at < 0) return [...conditions, ...put];
  return conditions.flatMap((one, i) => (i === at ? put : one.fact === fact ? [] : [one]));
}

/** A row without which the card answers as before; the last row of a card stays. */
export const removal = ({ card }: OnCard, row: RowId): Mend[] =>
  card.rows.length < 2
    ? []
    : [
        {
          do: 'removeRow',
          player: card.player,
          row,
          says: `Remove ${rowName(card, row)}.`,
        },
      ];

/** An answer for when in doubt, from the branches that his rows lead to. */
export function defaults(on: OnCard): Mend[] {
  const { card, who } = on;
  const used = new Set(card.rows.map(({ branch }) => branch));
  return [...used]
    .flatMap((id) => branchOf(card, id) ?? [])
    .filter((branch) => canBeMeant(on.play, branch))
    .slice(0, mostBranches)
    .map((branch) => ({
      do: 'setWhenInDoubt',
      player: card.player,
      branch: branch.id,
      says: `When in doubt, ${who} answers ${branch.name}.`,
    }));
}

/** A row that asks for what its reader never sees would be the next finding. */
function canSee({ play, card }: OnCard, conditions: readonly Condition[]): boolean {
  const reader = readerOf(play, card);
  return conditions.every(({ fact }) => facts[fact].seenBy[reader].when !== 'never');
}

/** The wished id, or the first number after it that no row of the card has. */
function freeRowId({ rows }: ReadCard, wish: string): RowId {
  const taken = new Set<string>(rows.map(({ id }) => id));
  let id = wish;
  for (let n = 2; taken.has(id); n++) id = `${wish}_${n}`;
  return rowIdSchema.parse(id);
}
