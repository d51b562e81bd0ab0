import type { PlayerId } from '@stemline/football/ids';
import type { AlignedLook, Defender } from '@stemline/football/look';
import type { ReadCard } from '../card.ts';
import { readsKey } from '../evaluate.ts';
import type { KeyResult } from '../key.ts';
import type { RuledPlay } from '../ruled-play.ts';
import {
  type ReaderCard,
  type Readers,
  type Reading,
  readerCard,
  targetOf,
} from './reader-card.ts';

/** How a quarterback's card and a receiver can be off the page. */
export type Disagreement =
  /** They start their scan over one man, find different keys, and it changes where the ball goes. */
  | 'differentMen'
  /** The ball goes to a man for whom nothing is drawn and who has no branch to run. */
  | 'noRoute'
  /** The ball goes to a man whose own card keeps him in to block. */
  | 'staysIn'
  /** The card of the quarterback, or of the man he throws to, has no answer. */
  | 'nobodyAnswers';

export interface OffPage {
  readonly kind: Disagreement;
  /** The man with whom the quarterback disagrees; himself where his own card is silent. */
  readonly player: PlayerId;
}

/** A receiver whose card must find the man that the quarterback's finds. */
export interface Pair {
  readonly receiver: ReaderCard;
  /** The quarterback's card if he read the receiver's man. */
  readonly asReceiver: ReaderCard;
}

/**
 * Receivers over whom the quarterback scans for the same sort of man. Cards that look for men of
 * different levels read different men on purpose.
 */
export function pairsOf(play: RuledPlay, { passer, all }: Readers): readonly Pair[] {
  if (!passer || !readsKey(passer.card)) return [];
  return all.flatMap((receiver): Pair[] => {
    if (receiver === passer || !readsKey(receiver.card)) return [];
    if (receiver.setting.start.id !== passer.setting.start.id) return [];
    const levels = new Set(receiver.card.head.key.levels);
    if (!passer.card.head.key.levels.some((level) => levels.has(level))) return [];
    const asReceiver = readerCard(play, scanningAs(passer.card, receiver));
    return asReceiver ? [{ receiver, asReceiver }] : [];
  });
}

const scanningAs = (card: ReadCard, { card: other, setting }: ReaderCard): ReadCard => ({
  ...card,
  head: { ...card.head, key: { ...other.head.key, over: setting.start.id } },
});

/** Both find a man, or one of them nobody, and it is not the same. A tie is told as two keys. */
export function areDifferent(a: KeyResult, b: KeyResult): boolean {
  if (a.kind === 'tie' || b.kind === 'tie') return false;
  return idOf(a) !== idOf(b);
}
const idOf = (key: KeyResult): Defender['id'] | null =>
  key.kind === 'one' ? key.defender.id : null;

/** Everything about one look and one choice of reactions that is off the page; mostly nothing. */
export function offPage(
  play: RuledPlay,
  pairs: readonly Pair[],
  passer: Reading,
  readings: readonly Reading[],
  look: AlignedLook,
  doing: readonly number[],
): OffPage[] {
  const found: OffPage[] = [];
  const target = targetOf(passer);
  if (passer.branch === null) {
    found.push({ kind: 'nobodyAnswers', player: passer.reader.card.player });
  } else if (target !== null && play.players.some(({ id }) => id === target)) {
    const kind = whyNotThere(play, target, readings);
    if (kind) found.push({ kind, player: target });
  }
  for (const { receiver, asReceiver } of pairs) {
    const { player } = receiver.card;
    const reading = readings.find(({ reader }) => reader === receiver);
    if (!reading || !areDifferent(passer.key, reading.key)) continue;
    const other = targetOf(asReceiver.before(look).reading(doing));
    if (target === null || other === null || other === target) continue;
    if (target === player || other === player) found.push({ kind: 'differentMen', player });
  }
  return found;
}

function whyNotThere(
  play: RuledPlay,
  target: PlayerId,
  readings: readonly Reading[],
): Disagreement | null {
  const his = readings.find(({ reader }) => reader.card.player === target);
  const isDrawn = play.routes[target] !== undefined;
  if (!his) return isDrawn ? null : 'noRoute';
  switch (his.branch?.kind) {
    case undefined:
      return 'nobodyAnswers';
    case 'route':
      return null;
    case 'target':
      return isDrawn ? null : 'noRoute';
    case 'block':
      return isDrawn && !comes(his) ? null : 'staysIn';
  }
}

/** The man he has to block comes. A back with a drawn route whose man does not is free to go. */
const comes = ({ keyDoes }: Reading): boolean => keyDoes?.move === 'rush';
