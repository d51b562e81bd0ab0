import { formations, playersOf } from '@stemline/football/formation';
import type { ReactionChoice } from '@stemline/football/look';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import { situation } from '@stemline/testkit/plays';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluate, meets, rowsThatFit } from './evaluate.ts';
import type { FactName } from './fact-name.ts';
import { impossible } from './facts/world.ts';
import { factNames, facts } from './facts.ts';
import { prove } from './prove.ts';
import { holds } from './space/region.ts';
import { anyCard, card, doubles, head } from './testing/cards.ts';

/** Any look before any formation, each man doing any of what he may do. */
const seen = fc.record({
  formation: fc.constantFrom(...formations),
  recipe: fc.constantFrom(...builtInLooks),
  situation: situation(),
  picks: fc.array(fc.nat({ max: 9 }), { minLength: 11, maxLength: 11 }),
  direction: fc.constantFrom('inside' as const, 'outside' as const),
  reader: fc.nat({ max: 10 }),
});

function sightingOf({
  formation,
  recipe,
  situation: where,
  picks,
  direction,
  reader,
}: typeof seen extends fc.Arbitrary<infer T> ? T : never) {
  const players = playersOf(formation.id, { strength: 'right', situation: where });
  const player = players[reader % players.length];
  if (!player) throw new Error('a formation without players');
  const play = { ...doubles(), situation: where, players };
  const look = alignLook(recipe, play);
  const reactions = Object.fromEntries(
    look.defenders.map(({ id, reactions: all }, i) => [id, all[(picks[i] ?? 0) % all.length]?.id]),
  ) as ReactionChoice;
  const read = {
    ...card([]),
    player: player.id,
    head: head({ key: { ...head().key, direction } }),
  };
  return { play, read, look, reactions };
}

describe('every fact', () => {
  it('P1 is measured inside its domain on any look before any formation', () => {
    let keys = 0;
    fc.assert(
      fc.property(seen, (one) => {
        const { play, read, look, reactions } = sightingOf(one);
        const { facts: known, key } = evaluate(play, read, look, reactions);
        if (key.kind === 'one') keys++;
        for (const name of factNames) {
          const value = known[name];
          const { domain } = facts[name];
          if (value === null) {
            expect(facts[name].hangsOn).toBe('key');
            expect(key.kind).not.toBe('one');
          } else if (domain.kind === 'continuous') {
            expect(value).toBeGreaterThanOrEqual(domain.min);
            expect(value).toBeLessThanOrEqual(domain.max);
            if (domain.whole) expect(Number.isInteger(value)).toBe(true);
          } else if (domain.kind === 'boolean') expect(typeof value).toBe('boolean');
          else expect(domain.values).toContain(value);
        }
      }),
      { numRuns: 300 },
    );
    expect(keys).toBeGreaterThan(50);
  });

  it('P3 never shows what the world rules out', () => {
    fc.assert(
      fc.property(seen, (one) => {
        const { play, read, look, reactions } = sightingOf(one);
        const { facts: known } = evaluate(play, read, look, reactions);
        for (const { together } of impossible)
          expect(together.every((condition) => meets(condition, known))).toBe(false);
      }),
      { numRuns: 300 },
    );
  });

  it('P1 P2 whatever look a card meets, no row fits exactly where a gap was proved', () => {
    let met = 0;
    fc.assert(
      fc.property(seen, anyCard(), (one, other) => {
        const { play, look, reactions, read } = sightingOf(one);
        const asked = { ...other, player: read.player };
        const { key, facts: known } = evaluate(play, asked, look, reactions);
        if (key.kind !== 'one') return;
        met++;
        const { gaps } = prove(play, asked);
        const inGap = gaps.filter((region) =>
          region.every((side) => holds(side, known[side.name as FactName])),
        );
        expect(inGap.length).toBe(rowsThatFit(asked, known).length === 0 ? 1 : 0);
      }),
      { numRuns: 400 },
    );
    expect(met).toBeGreaterThan(50);
  });

  it('says who can see it and when', () => {
    expect(facts.rushers.seenBy).toMatchObject({
      runner: { when: 'never' },
      passer: { when: 'afterSnap' },
    });
    expect(facts.coverage.seenBy.runner).toEqual({ when: 'never' });
    expect(facts.keyOffset.seenBy.runner).toEqual({ when: 'beforeSnap' });
    expect(facts.keyMove.seenBy.runner).toMatchObject({ when: 'afterSnap' });
  });
});
