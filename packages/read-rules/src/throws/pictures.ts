import type { AlignedLook, ReactionChoice } from '@stemline/football/look';
import type { Branch, ReadCard } from '../card.ts';
import { answerOf, measureAsked, rowsThatFit } from '../evaluate.ts';
import type { FactName } from '../fact-name.ts';
import { type Setting, type Sighting, settingOf, sightingOf } from '../facts/sighting.ts';
import { isRoute } from '../reader.ts';
import { askedFacts } from '../reasons.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { showsBeforeSnap } from '../witness/bench.ts';
import type { PlannedThrow, Progression } from './planned.ts';

/** A look with its reactions, and what is thrown before it. */
export interface Picture {
  readonly look: AlignedLook;
  readonly reactions: ReactionChoice;
  /** Everybody does what the call asks of him. */
  readonly called: boolean;
  readonly thrown: PlannedThrow;
  /** What every card with routes comes to. */
  readonly branches: ReadonlyMap<ReadCard, Branch | null>;
}

interface Reading {
  readonly card: ReadCard;
  readonly setting: Setting;
  /** The facts that its rows ask about: those that show before the snap, and the others. */
  readonly before: readonly FactName[];
  readonly after: readonly FactName[];
}

/**
 * Every throw before every look: as called, and with each other reaction of each card's key. What is
 * thrown is what the cards say, so nothing is thrown where a card has no answer.
 */
export function picturesOf(
  play: RuledPlay,
  { passerCard, cards, throws }: Progression,
  looks: readonly AlignedLook[],
): readonly Picture[] {
  const read = [...cards.values(), ...(passerCard ? [passerCard] : [])];
  const readings = read.flatMap((card): Reading[] => {
    const setting = settingOf(play, card);
    const names = askedFacts(card);
    const before = names.filter(showsBeforeSnap);
    const after = names.filter((name) => !showsBeforeSnap(name));
    return setting ? [{ card, setting, before, after }] : [];
  });
  return looks.flatMap((look) => {
    const sightings = readings.map(({ setting }) => sightingOf(setting, look, {}));
    const shown = readings.map(({ before }, i) => measureAsked(sightings[i] as Sighting, before));
    return waysToReact(sightings).flatMap((reactions, way) => {
      const branches = new Map(
        readings.map(({ card, after }, i) => {
          const called = sightings[i] as Sighting;
          const sighting = way === 0 ? called : called.reacting(reactions);
          const known = { ...shown[i], ...measureAsked(sighting, after) };
          const fits = rowsThatFit(card, known);
          return [card, answerOf(card, sighting.selected, fits).branch];
        }),
      );
      const picked = passerCard ? branches.get(passerCard) : undefined;
      const thrown = throws.filter(({ receiver, choice }) => {
        const isPicked =
          !passerCard || (picked?.kind === 'target' && picked.player === receiver.id);
        return isPicked && (!choice || branches.get(choice.card)?.id === choice.branch.id);
      });
      return thrown.map((one) => ({ look, reactions, called: way === 0, thrown: one, branches }));
    });
  });
}

/** As called, then one key at a time doing something else. */
function waysToReact(sightings: readonly Sighting[]): readonly ReactionChoice[] {
  const keys = new Set(sightings.flatMap(({ key }) => (key ? [key] : [])));
  const others = [...keys].flatMap(({ id, reactions }) =>
    reactions.slice(1).map((reaction): ReactionChoice => ({ [id]: reaction.id })),
  );
  return [{}, ...others];
}

/** The branch of a route that a card comes to in a picture. */
export const routeIn = ({ branches }: Picture, card: ReadCard) => {
  const branch = branches.get(card) ?? null;
  return branch && isRoute(branch) ? branch : null;
};
