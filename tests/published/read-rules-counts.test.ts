/** Counts kept as data (`read-rules-counts.json`, counted by brute force) against the card's reading and its proof. */
import type { FactName } from '@stemline/read-rules/fact-name';
import { prove } from '@stemline/read-rules/prove';
import { holds } from '@stemline/read-rules/space/region';
import { describe, expect, it } from 'vitest';
import { answers, counted, countsOf, kindOf } from './read-rules-counting.ts';
import counts from './read-rules-counts.json' with { type: 'json' };
import { readPlay } from './read-rules-plays.ts';

describe('every defence of a coarse grid', () => {
  for (const name of counted) {
    it(`R5 R7 counts per branch, gap and clash are as they were counted: ${name}`, () => {
      expect(countsOf(readPlay(name))).toEqual(counts.counts[name]);
    });

    it(`G1 C1 P1 lies in a proven gap exactly when no row fits, and in a clash told when rows disagree: ${name}`, () => {
      const play = readPlay(name);
      for (const card of play.cards) {
        const { gaps, overlaps } = prove(play, card);
        const lies = (regions: typeof gaps, facts: Readonly<Partial<Record<FactName, unknown>>>) =>
          regions.some((region) =>
            region.every((side) =>
              holds(side, facts[side.name as FactName] as number | boolean | string | null),
            ),
          );
        const clashes = overlaps.filter(({ agree }) => !agree).flatMap(({ regions }) => regions);
        for (const answer of answers(play, card)) {
          if (answer.key.kind !== 'one') continue;
          expect(lies(gaps, answer.facts)).toBe(answer.fits.length === 0);
          expect(lies(clashes, answer.facts)).toBe(kindOf(answer) === 'clash');
        }
      }
    });
  }
});
