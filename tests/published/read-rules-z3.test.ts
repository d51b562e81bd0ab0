/** The prover against an independent solver over the reals: see `read-rules-by-z3.ts`. */
import type { ReadCard } from '@stemline/read-rules/card';
import type { FactName } from '@stemline/read-rules/fact-name';
import { prove } from '@stemline/read-rules/prove';
import { anyCard } from '@stemline/read-rules/testing/cards';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  bothFit,
  fits,
  fitsOutside,
  isIn,
  noneFits,
  startZ3,
  type Z3,
} from './read-rules-by-z3.ts';
import { readPlay } from './read-rules-plays.ts';

const play = readPlay('lantern');

/** All facts but those that the play settles. */
const open: readonly FactName[] = [
  'keyOffset',
  'keyDepth',
  'keyMove',
  'cushion',
  'roomInside',
  'roomOutside',
  'manOutside',
  'keyRushes',
  'front',
  'coverage',
  'rushers',
  'mikeLean',
];
/** Those that hang together over where one man can be. */
const tied: readonly FactName[] = [
  'keyOffset',
  'keyDepth',
  'cushion',
  'roomInside',
  'roomOutside',
  'keyRushes',
];

let z3: Z3;
beforeAll(async () => {
  z3 = await startZ3();
});
afterAll(() => z3.stop());

/** Cards are tried until this long is over, so that a slow machine tries fewer and none waits. Milliseconds. */
const patience = 7_000;

/** Half of them scan the second level alone, where the key may himself be the middle linebacker. */
const scanning = (cards: fc.Arbitrary<ReadCard>): fc.Arbitrary<ReadCard> =>
  fc.tuple(cards, fc.boolean()).map(([card, secondAlone]) => {
    const { key } = card.head;
    const levels = secondAlone ? (['second'] as const) : key.levels;
    return { ...card, head: { ...card.head, key: { ...key, levels: [...levels] } } };
  });

/** Runs a check over random cards and says how many z3 answered. The seed stands in fast-check's report and in what is printed. */
async function overCards(
  cards: fc.Arbitrary<ReadCard>,
  holds: (card: ReadCard) => Promise<boolean>,
): Promise<number> {
  const seed = Date.now() & 0x7fffffff;
  const until = Date.now() + patience;
  let tried = 0;
  await fc.assert(
    fc.asyncProperty(scanning(cards), async (card) => {
      if (Date.now() < until && (await holds(card))) tried++;
    }),
    { numRuns: 150, seed },
  );
  console.info(`z3: ${tried} cards, seed ${seed}`);
  return tried;
}

const under = (card: ReadCard, policy: 'first' | 'unique'): ReadCard => ({
  ...card,
  head: { ...card.head, policy },
});

describe('the prover and z3 agree over the reals', () => {
  for (const [what, names] of [
    ['any facts', open],
    ['facts that hang together', tied],
  ] as const) {
    it(`P1 P3 P6 on gaps in ${what}: each region can be and fits no row, and outside them there is no gap`, async () => {
      let gapped = 0;
      const tried = await overCards(anyCard(names), async (card) => {
        const { gaps } = prove(play, card);
        const none = noneFits(card.rows);
        const rows = card.rows.map(fits);
        const answers = await z3.canBe(play, card, [
          none,
          fitsOutside(none, gaps),
          ...gaps.flatMap((region) => [
            isIn(region),
            ...rows.map((row) => `(and ${isIn(region)} ${row})`),
          ]),
        ]);
        if (!answers) return false;
        const [any, outside, ...each] = answers;
        expect(any).toBe(gaps.length > 0);
        expect(outside).toBe(false);
        const expected = gaps.flatMap(() => [true, ...rows.map(() => false)]);
        expect(each).toEqual(expected);
        if (gaps.length > 0) gapped++;
        return true;
      });
      expect(tried).toBeGreaterThan(5);
      expect(gapped).toBeGreaterThan(0);
    }, 60_000);
  }

  it('C1 C3 P6 on clashes: two rows that disagree clash exactly where z3 finds a defence for both', async () => {
    let clashed = 0;
    const tried = await overCards(anyCard(tied), async (one) => {
      const card = under(one, 'unique');
      const told = prove(play, card).overlaps.filter(({ agree }) => !agree);
      const pairs = card.rows.flatMap((a, i) =>
        card.rows.slice(i + 1).flatMap((b) => (a.branch === b.branch ? [] : [[a, b] as const])),
      );
      const found = await z3.canBe(
        play,
        card,
        pairs.map(([a, b]) => bothFit(a, b)),
      );
      if (!found) return false;
      const clashes = pairs.map(([a, b]) =>
        told.some(({ rows }) => rows.includes(a.id) && rows.includes(b.id)),
      );
      expect(clashes).toEqual(found);
      if (clashes.includes(true)) clashed++;
      return true;
    });
    expect(tried).toBeGreaterThan(5);
    expect(clashed).toBeGreaterThan(0);
  }, 60_000);
});
