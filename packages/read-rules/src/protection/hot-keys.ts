import type { AlignedLook, Defender } from '@stemline/football/look';
import type { BranchId, Condition, ReadCard, Row } from '../card.ts';
import { chosen } from '../facts/sighting.ts';
import type { Finding } from '../finding.ts';
import { findingId } from '../findings/finding-id.ts';
import { cardElement } from '../findings/on-card.ts';
import type { OnPlay } from '../findings/on-play.ts';
import { isRoute } from '../reader.ts';
import {
  type ReaderCard,
  type Reading,
  readersAmong,
  readingOf,
} from '../same-page/reader-card.ts';

/** The row asks for a key who comes. */
const asksForRush = (condition: Condition): boolean =>
  (condition.kind === 'is' && condition.fact === 'keyRushes' && condition.value) ||
  (condition.kind === 'oneOf' &&
    condition.fact === 'keyMove' &&
    condition.values.every((value) => value === 'rush'));

const isHot = ({ conditions }: Row): boolean => conditions.some(asksForRush);

const hotBranches = ({ rows }: ReadCard): ReadonlySet<BranchId> =>
  new Set(rows.filter(isHot).map(({ branch }) => branch));

interface Apart {
  readonly look: AlignedLook;
  readonly comes: Defender;
  readonly passer: Reading;
  readonly receiver: Reading;
}

/**
 * The passer throws hot to a man because his key comes, and that man, who has a hot way of his own,
 * reads somebody who does not come: he runs on, and the ball is where he is not.
 */
export function hotKeys({ play, looks, cards }: OnPlay): Finding[] {
  const { all, passer } = readersAmong(play, cards);
  if (!passer?.card.rows.some(isHot)) return [];
  return all.flatMap((receiver): Finding[] => {
    const hot = hotBranches(receiver.card);
    if (receiver === passer || hot.size === 0 || !receiver.card.branches.some(isRoute)) return [];
    const shown = looks.flatMap((look) => apartBefore(passer, receiver, hot, look));
    const [first] = shown;
    return first ? [told(passer, receiver, first, shown, looks.length)] : [];
  });
}

function apartBefore(
  passer: ReaderCard,
  receiver: ReaderCard,
  hot: ReadonlySet<BranchId>,
  look: AlignedLook,
): Apart[] {
  const { key } = passer.before(look);
  if (key.kind !== 'one') return [];
  const rush = key.defender.reactions.find(({ move }) => move === 'rush');
  if (!rush) return [];
  const reactions = { [key.defender.id]: rush.id };
  const throws = readingOf(passer, look, reactions);
  const row = passer.card.rows.find(({ id }) => id === throws.row);
  if (!row || !isHot(row) || throws.branch?.kind !== 'target') return [];
  if (throws.branch.player !== receiver.card.player) return [];
  const runs = readingOf(receiver, look, reactions);
  if (runs.key.kind !== 'one' || runs.key.defender.id === key.defender.id) return [];
  if (chosen(runs.key.defender, reactions).move === 'rush') return [];
  return runs.branch && hot.has(runs.branch.id)
    ? []
    : [{ look, comes: key.defender, passer: throws, receiver: runs }];
}

function told(
  passer: ReaderCard,
  receiver: ReaderCard,
  { look, comes, receiver: runs }: Apart,
  shown: readonly Apart[],
  all: number,
): Finding {
  const reads = runs.key.kind === 'one' ? runs.key.defender.label : 'nobody';
  const rush = comes.reactions.find(({ move }) => move === 'rush');
  return {
    id: findingId('hotKeys', [passer.card.player, receiver.card.player]),
    kind: 'hotKeys',
    severity: 'warn',
    elements: [cardElement(passer.card), cardElement(receiver.card)],
    says: `Against "${look.name}" ${comes.label} comes and ${passer.who} throws hot to ${receiver.who}, but ${receiver.who} reads ${reads}, who does not come, and runs ${runs.branch?.name ?? 'on'}.${shown.length > 1 ? ` ${shown.length} of the ${all} looks show it.` : ''}`,
    mend: `Have both read the same man, or throw hot to somebody whose way does not depend on ${reads}.`,
    witness: {
      look,
      reactions: rush ? { [comes.id]: rush.id } : {},
      says: `${comes.label} comes; ${passer.who} reads him, ${receiver.who} reads ${reads}`,
    },
  };
}
