import type { PlayerId } from '@stemline/football/ids';
import type { AlignedLook, ReactionChoice } from '@stemline/football/look';
import { readsKey } from '../evaluate.ts';
import { chosen, doingOf } from '../facts/sighting.ts';
import type { Element, Finding, Severity } from '../finding.ts';
import { findingId } from '../findings/finding-id.ts';
import { cardElement } from '../findings/on-card.ts';
import type { OnPlay } from '../findings/on-play.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { both } from '../words.ts';
import { explain, labelIn, nameOf } from './explain.ts';
import { areDifferent, type Disagreement, offPage, type Pair, pairsOf } from './off-page.ts';
import {
  keysOf,
  type ReaderCard,
  type Readers,
  type Reading,
  readersAmong,
} from './reader-card.ts';
import { isCalled, waysBefore } from './ways.ts';

/** A look in which two are off the page: how many ways of it show it, and the first of them. */
interface Seen {
  readonly look: AlignedLook;
  readonly reactions: ReactionChoice;
  readonly isCalled: boolean;
  readonly passer: Reading;
  readonly readings: readonly Reading[];
  /** Ways to react that were looked at, and how many of them show it. */
  readonly of: number;
  ways: number;
}

/**
 * Where the quarterback's card and the receivers do not come to the same answer: one finding for
 * each pair and kind, over every look and reaction of `samePage`.
 */
export function offThePage({ play, looks, cards }: OnPlay): Finding[] {
  const readers = readersAmong(play, cards);
  const { passer } = readers;
  if (!passer) return [];
  const pairs = pairsOf(play, readers);
  const isOpen = canBeOff(play, passer, readers);
  const seen = new Map<string, { kind: Disagreement; player: PlayerId; looks: Seen[] }>();
  for (const look of looks) {
    if (!isOpen && !pairs.some((pair) => readDifferent(pair, passer, look))) continue;
    const ways = waysBefore(readers.all, look);
    for (const reactions of ways.choices) {
      const doing = doingOf(look, reactions);
      const readings = readers.all.map((reader) => reader.before(look).reading(doing));
      const his = readings[0] as Reading;
      for (const { kind, player } of offPage(play, pairs, his, readings, look, doing)) {
        const one = seen.get(`${kind} ${player}`) ?? { kind, player, looks: [] };
        seen.set(`${kind} ${player}`, one);
        const last = one.looks.at(-1);
        if (last?.look === look) last.ways += 1;
        else {
          const called = isCalled(ways, reactions);
          one.looks.push({
            look,
            reactions,
            isCalled: called,
            passer: his,
            readings,
            of: ways.choices.length,
            ways: 1,
          });
        }
      }
    }
  }
  return [...seen.values()].map((one) => findingOf(play, passer, one, looks.length));
}

/** Whether anything but different keys can put somebody off the page; most plays need not be walked through. */
function canBeOff(play: RuledPlay, passer: ReaderCard, { all }: Readers): boolean {
  if (canBeSilent(passer)) return true;
  return passer.card.branches.some((branch) => {
    if (branch.kind !== 'target') return false;
    const his = all.find(({ card }) => card.player === branch.player);
    if (!his) return play.routes[branch.player] === undefined;
    return canBeSilent(his) || his.card.branches.some(({ kind }) => kind !== 'route');
  });
}

/** `first` with an answer for doubt always answers, if what it leads to is there. */
const canBeSilent = ({ card: { head, rows, branches } }: ReaderCard): boolean =>
  head.whenInDoubt === null ||
  head.policy === 'unique' ||
  [...rows.map(({ branch }) => branch), head.whenInDoubt, head.noKey].some(
    (id) => id !== null && !branches.some((branch) => branch.id === id),
  );

const readDifferent = ({ receiver }: Pair, passer: ReaderCard, look: AlignedLook): boolean =>
  areDifferent(passer.before(look).key, receiver.before(look).key);

const severities: Readonly<Record<Disagreement, Severity>> = {
  differentMen: 'stop',
  noRoute: 'stop',
  staysIn: 'stop',
  // The card that is silent has a stop of its own.
  nobodyAnswers: 'warn',
};

function findingOf(
  play: RuledPlay,
  passer: ReaderCard,
  { kind, player, looks }: { kind: Disagreement; player: PlayerId; looks: readonly Seen[] },
  shelf: number,
): Finding {
  const worst = [...looks].sort(
    (a, b) => Number(b.isCalled) - Number(a.isCalled) || b.ways / b.of - a.ways / a.of,
  )[0] as Seen;
  const { card } = passer;
  const hasCard = play.cards.some((other) => other.player === player);
  const him: Element = hasCard ? { kind: 'card', player } : { kind: 'player', player };
  const more = looks.length - 1;
  const count =
    more === 0
      ? ''
      : ` So it is in ${more === shelf - 1 ? 'every look' : `${looks.length} looks`}.`;
  return {
    id: findingId('offThePage', [card.player, player, kind]),
    kind: 'offThePage',
    severity: severities[kind],
    elements: player === card.player ? [cardElement(card)] : [cardElement(card), him],
    says: `${sentence(play, passer, kind, player, worst)}${count}`,
    mend: mendWords(passer, labelIn(play, player), kind, player),
    witness: {
      look: worst.look,
      reactions: worst.reactions,
      says: witnessWords(play, worst),
    },
  };
}

function sentence(
  play: RuledPlay,
  { card, who }: ReaderCard,
  kind: Disagreement,
  player: PlayerId,
  { look, passer, readings }: Seen,
): string {
  const label = labelIn(play, player);
  const lead = `Against "${look.name}"`;
  switch (kind) {
    case 'differentMen': {
      const his = readings.find(({ reader }) => reader.card.player === player);
      return `${lead} ${who} reads ${manOf(look, passer)} and ${label} reads ${his ? manOf(look, his) : 'another man'}, and it changes where the ball goes.`;
    }
    case 'noRoute':
      return `${lead} ${who} throws to ${label}, who has no route.`;
    case 'staysIn':
      return `${lead} ${who} throws to ${label}, whose card keeps him in to block.`;
    case 'nobodyAnswers':
      return player === card.player
        ? `${lead} ${who}'s card does not say where the ball goes${when(look, passer)}.`
        : `${lead} ${who} throws to ${label}, whose card does not say what he runs${when(look, passer)}.`;
  }
}

const manOf = (look: AlignedLook, { key }: Reading): string =>
  keysOf(key)
    .map((man) => nameOf(look, man))
    .join(' and ') || 'nobody';

/** " when M drops to the hook": what the key does, for a card that asks about him. */
function when(look: AlignedLook, { reader, key, keyDoes }: Reading): string {
  if (key.kind !== 'one' || !readsKey(reader.card)) return '';
  return ` when ${nameOf(look, key.defender)} ${keyDoes?.says}`;
}

function mendWords(
  { who, card }: ReaderCard,
  label: string,
  kind: Disagreement,
  player: PlayerId,
): string {
  switch (kind) {
    case 'differentMen':
      return 'Have both scan the same levels, to the same depth and the same way.';
    case 'noRoute':
      return `Draw ${label} a route, or have ${who} throw to somebody who has one.`;
    case 'staysIn':
      return `Have ${who} throw to somebody else when ${label}'s man comes.`;
    case 'nobodyAnswers':
      return `Say on ${player === card.player ? who : label}'s card what he does then, or what he does when in doubt.`;
  }
}

function witnessWords(play: RuledPlay, { look, reactions, passer, readings }: Seen): string {
  const men = new Set(readings.flatMap(({ key }) => keysOf(key)));
  const does = [...men].map((man) => `${nameOf(look, man)} ${chosen(man, reactions).says}`);
  const told = explain(play, look, passer, readings, []);
  return does.length > 0 ? `${both(does)}. ${told}` : told;
}
