import type { ReadCard } from '@stemline/read-rules/card';
import { prove } from '@stemline/read-rules/prove';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { bothFit, noneFits, startZ3 } from '../../published/read-rules-by-z3.ts';
import { type Figure, higher } from '../figure.ts';
import { quickest, type Say } from './measure.ts';
import { plays } from './plays.ts';

/**
 * Every card of the plays, the same question to both: is there a gap, and which disagreeing rows clash?
 * The prover also finds all regions and the rows never used in its time; z3 is only asked whether.
 */
export async function besideZ3(say: Say): Promise<readonly Figure[]> {
  const z3 = await startZ3();
  let ours = 0;
  let theirs = 0;
  let alike = 0;
  let cards = 0;
  for (const play of plays) {
    for (const card of play.cards) {
      const { proof, answers, milliseconds } = await both(play, card, z3);
      cards++;
      ours += milliseconds.ours;
      theirs += milliseconds.theirs;
      if (answers && JSON.stringify(answers) === JSON.stringify(proof)) alike++;
    }
  }
  await z3.stop();
  say(`${cards} cards: proved in ${ours.toFixed(2)} ms, by z3 in ${theirs.toFixed(0)} ms`);
  return [
    higher('proof beside z3, real cards', theirs / ours, 'times faster', 100),
    higher('cards on which z3 says the same', alike / cards, 'of all', 1),
  ];
}

async function both(play: RuledPlay, one: ReadCard, z3: Awaited<ReturnType<typeof startZ3>>) {
  const card = { ...one, head: { ...one.head, policy: 'unique' as const } };
  const pairs = card.rows.flatMap((a, i) =>
    card.rows.slice(i + 1).flatMap((b) => (a.branch === b.branch ? [] : [[a, b] as const])),
  );
  const ours = quickest(20, () => prove(play, card));
  const { gaps, overlaps } = prove(play, card);
  const proof = [
    gaps.length > 0,
    ...pairs.map(([a, b]) =>
      overlaps.some(({ rows, agree }) => !agree && rows.includes(a.id) && rows.includes(b.id)),
    ),
  ];
  const questions = [noneFits(card.rows), ...pairs.map(([a, b]) => bothFit(a, b))];
  let theirs = Number.POSITIVE_INFINITY;
  let answers: boolean[] | null = null;
  for (let run = 0; run < 3; run++) {
    const start = performance.now();
    answers = await z3.canBe(play, card, questions);
    theirs = Math.min(theirs, performance.now() - start);
  }
  return { proof, answers, milliseconds: { ours, theirs } };
}
