import type { AlignedLook, Defender, Reaction, ReactionChoice } from '@stemline/football/look';
import { asCalled, sideManOf } from '../facts/sighting.ts';
import { keysOf, type ReaderCard } from './reader-card.ts';

/** No more men than this react in every way they may; the others do as they are called. */
export const mostMenVaried = 4;
/** No more ways than this to react before one look. */
export const mostWays = 64;

/** How the men whom the cards read may react to a snap. */
export interface Ways {
  /** Men who do each thing they may, in the order in which they are read. */
  readonly varied: readonly Defender[];
  /** Men who are read too, but whose call alone is looked at: past one of the two bounds. */
  readonly held: readonly Defender[];
  /** Every combination, the called one first. Each names all varied men. */
  readonly choices: readonly ReactionChoice[];
}

/** The keys of all readers first, then the men on the other side of them. */
export function waysBefore(readers: readonly ReaderCard[], look: AlignedLook): Ways {
  const sightings = readers.map((reader) => reader.before(look).sighting(asCalled));
  const read = new Set([
    ...sightings.flatMap(({ selected }) => keysOf(selected)),
    ...sightings.flatMap((sighting) => sideManOf(sighting) ?? []),
  ]);
  const varied: Defender[] = [];
  const held: Defender[] = [];
  let count = 1;
  for (const man of read) {
    const fits = varied.length < mostMenVaried && count * man.reactions.length <= mostWays;
    if (fits) count *= man.reactions.length;
    (fits ? varied : held).push(man);
  }
  return { varied, held, choices: combinations(varied) };
}

const combinations = (men: readonly Defender[]): ReactionChoice[] =>
  men.reduce<ReactionChoice[]>(
    (ways, { id, reactions }) =>
      ways.flatMap((way) => reactions.map((reaction) => ({ ...way, [id]: reaction.id }))),
    [{}],
  );

export const isCalled = ({ varied }: Ways, choice: ReactionChoice): boolean =>
  varied.every(({ id, reactions }) => choice[id] === reactions[0]?.id);

/** "W drops to the hook": one varied man of a choice. */
export const doing = (man: Defender, reaction: Reaction): string => `${man.label} ${reaction.says}`;
