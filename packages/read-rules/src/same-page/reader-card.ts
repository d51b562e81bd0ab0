import type { PlayerId } from '@stemline/football/ids';
import type { AlignedLook, Defender, ReactionChoice } from '@stemline/football/look';
import type { Branch, ReadCard } from '../card.ts';
import { answerOf, measureAsked, rowsThatFit } from '../evaluate.ts';
import type { FactName } from '../fact-name.ts';
import { type Setting, type Sighting, settingOf, sightingOf } from '../facts/sighting.ts';
import type { KeyResult } from '../key.ts';
import { readerOf } from '../reader.ts';
import { type Answer, askedFacts } from '../reasons.ts';
import type { RuledPlay } from '../ruled-play.ts';

/** One card of the play with what holds of it before every look. */
export interface ReaderCard {
  readonly card: ReadCard;
  /** His label on the drawing. */
  readonly who: string;
  readonly setting: Setting;
  readonly names: readonly FactName[];
}

/** What one reader makes of one look and one choice of reactions. */
export interface Reading {
  readonly reader: ReaderCard;
  readonly sighting: Sighting;
  readonly key: KeyResult;
  readonly row: Answer;
  readonly branch: Branch | null;
}

/** The readers of a play: whoever throws first, then in the order of the cards. */
export interface Readers {
  readonly all: readonly ReaderCard[];
  /** Whose card says where the ball goes; null where no card of a quarterback throws. */
  readonly passer: ReaderCard | null;
}

/** A card whose player, or the man its scan starts over, is not on the field reads nothing. */
export function readersOf(play: RuledPlay): Readers {
  const cards = play.cards.flatMap((card): ReaderCard[] => {
    const reader = readerCard(play, card);
    return reader && card.rows.length > 0 ? [reader] : [];
  });
  const passer =
    cards.find(
      ({ card }) =>
        readerOf(play, card) === 'passer' && card.branches.some(({ kind }) => kind === 'target'),
    ) ?? null;
  return {
    passer,
    all: passer ? [passer, ...cards.filter((one) => one !== passer)] : cards,
  };
}

export function readerCard(play: RuledPlay, card: ReadCard): ReaderCard | null {
  const setting = settingOf(play, card);
  const who = play.players.find(({ id }) => id === card.player)?.label;
  return setting && who !== undefined ? { card, who, setting, names: askedFacts(card) } : null;
}

/** Must agree with `evaluate`; it measures no more than the card asks about. */
export function readingOf(
  reader: ReaderCard,
  look: AlignedLook,
  reactions: ReactionChoice,
): Reading {
  const { card, setting, names } = reader;
  const sighting = sightingOf(setting, look, reactions);
  const key = sighting.selected;
  const fits = rowsThatFit(card, measureAsked(sighting, names));
  return { reader, sighting, key, ...answerOf(card, key, fits) };
}

export const keysOf = (key: KeyResult): readonly Defender[] =>
  key.kind === 'one' ? [key.defender] : key.kind === 'tie' ? key.defenders : [];

/** Whom a quarterback's answer throws to. */
export const targetOf = ({ branch }: Pick<Reading, 'branch'>): PlayerId | null =>
  branch?.kind === 'target' ? branch.player : null;
