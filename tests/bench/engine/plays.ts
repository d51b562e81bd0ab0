import { readFileSync } from 'node:fs';
import { type RuledPlay, ruledPlaySchema } from '@stemline/read-rules/ruled-play';
import { book } from '../../../apps/server/src/demo/book.ts';

const sample = (name: string): RuledPlay => {
  const file = new URL(`../../published/plays/${name}.json`, import.meta.url);
  return ruledPlaySchema.parse(JSON.parse(readFileSync(file, 'utf8')).play);
};

/** The demo staff's book, and the samples with something wrong. */
export const plays: readonly RuledPlay[] = [
  ...book.map(({ play }) => play),
  ...['lantern', 'lantern-gap', 'lantern-clash', 'lantern-never-used'].map(sample),
];

/** The play with the most on it: a passer's card and a receiver's, seven branches. */
export const richest = plays.reduce((most, play) => (rowsOf(play) > rowsOf(most) ? play : most));

/** One with cards, but few rows. */
export const smallest = plays
  .filter(({ cards }) => cards.length > 0)
  .reduce((least, play) => (rowsOf(play) < rowsOf(least) ? play : least));

function rowsOf({ cards }: RuledPlay): number {
  return cards.reduce((sum, { rows }) => sum + rows.length, 0);
}

/**
 * The play with one man a little wider: another formation, so that nothing that was worked out for the
 * play before can be used again.
 */
export function moved(play: RuledPlay, step: number): RuledPlay {
  const yards = ((step % 200) - 100) / 400;
  const [last, ...others] = [...play.players].reverse();
  if (!last) return { ...play };
  const players = [...others, { ...last, at: [last.at[0] + yards, last.at[1]] as const }];
  return { ...play, players };
}
