import { atSnap } from '@stemline/football/snap';
import type { Branch, RouteBranch, Row } from '../card.ts';
import { secondsToDecide } from '../decision.ts';
import { branchOf } from '../evaluate.ts';
import type { FactName } from '../fact-name.ts';
import type { Sight } from '../facts/declaration.ts';
import { facts } from '../facts.ts';
import type { OnCard } from '../findings/on-card.ts';
import { isRoute } from '../reader.ts';
import { askedFacts } from '../reasons.ts';
import { yards } from '../words.ts';
import type { Mend } from './mend.ts';

/** A branch that may break before it is decided: break later, or decide sooner. */
export function mendsForLateDecision(on: OnCard, branch: RouteBranch): Mend[] {
  const { decideBy, breakAt } = branch;
  const { from, to } = breakAt;
  return [
    ...(mayDecideAtAnotherDepth(on, branch) ? [depths(on, branch, from, breakAt)] : []),
    depths(on, branch, decideBy, { from: decideBy, to: Math.max(to, decideBy) }),
  ];
}

/** A row that asks for what shows later than its branch is decided: decide once it shows. */
export function mendsForUnseen(on: OnCard, row: Row, fact: FactName, sight: Sight): Mend[] {
  const branch = branchOf(on.card, row.branch);
  if (!branch || !isRoute(branch) || !mayDecideAtAnotherDepth(on, branch)) return [];
  const decideBy = depthOfSight(on, branch, sight);
  if (decideBy === null) return [];
  const { from, to } = branch.breakAt;
  return [
    depths(
      on,
      branch,
      decideBy,
      { from: Math.max(from, decideBy), to: Math.max(to, decideBy) },
      ` That is when ${facts[fact].label.toLowerCase()} shows.`,
    ),
  ];
}

/** Deepest decision that is offered. Yards. */
const deepest = 15;
const step = 0.5;

/** The first half yard at which it shows; null where none is near. */
function depthOfSight({ play, card }: OnCard, branch: RouteBranch, sight: Sight): number | null {
  if (sight.when === 'byDepth') return sight.yards <= deepest ? sight.yards : null;
  if (sight.when !== 'afterSnap') return null;
  const player = atSnap(play).find(({ id }) => id === card.player);
  if (!player) return null;
  for (let depth = step; depth <= deepest; depth += step) {
    const shown: Branch = { ...branch, decideBy: depth };
    if (secondsToDecide(play, player, shown) >= sight.seconds) return depth;
  }
  return null;
}

/** Facts that are measured where and when the card is decided: moving that would change every row that asks. */
const measuredAtDecision: readonly FactName[] = ['cushion', 'roomInside', 'roomOutside'];

const mayDecideAtAnotherDepth = ({ card }: OnCard, branch: RouteBranch): boolean =>
  isDecidedSooner(card.branches, branch) ||
  !askedFacts(card).some((fact) => measuredAtDecision.includes(fact));

/** The card's one decision is another branch's, and stays it. */
const isDecidedSooner = (branches: readonly Branch[], branch: RouteBranch): boolean =>
  branches.some(
    (other) =>
      other.id !== branch.id &&
      isRoute(other) &&
      other.decideBy <= Math.min(branch.decideBy, branch.breakAt.from) &&
      other.release.hesitate <= branch.release.hesitate,
  );

function depths(
  { card }: OnCard,
  branch: RouteBranch,
  decideBy: number,
  breakAt: RouteBranch['breakAt'],
  why = '',
): Mend {
  const breaks =
    breakAt.from === branch.breakAt.from && breakAt.to === branch.breakAt.to
      ? ''
      : ` and broken at ${breakAt.from === breakAt.to ? yards(breakAt.from) : `${yards(breakAt.from)} to ${yards(breakAt.to)}`} yd`;
  return {
    do: 'setDepths',
    player: card.player,
    branch: branch.id,
    decideBy,
    breakAt,
    says: `Have ${branch.name} decided by ${yards(decideBy)} yd${breaks}.${why}`,
  };
}
