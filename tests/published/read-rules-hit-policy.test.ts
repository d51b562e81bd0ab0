/**
 * Hit policies U (unique) and F (first) of the Object Management Group's Decision Model and Notation,
 * version 1.1 and later, as their one-letter table describes them: U allows no overlap, so every
 * overlap is reported; F returns the first rule that fits in rule order, so what must be reported is
 * a rule that is masked by earlier ones. Completeness: every input meets a rule. The names and
 * meanings were read in the comment of an open-source processor that quotes the standard.
 */
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import { type ReadCard, readCardSchema } from '@stemline/read-rules/card';
import { evaluate } from '@stemline/read-rules/evaluate';
import { prove } from '@stemline/read-rules/prove';
import { describe, expect, it } from 'vitest';
import { readPlay } from './read-rules-plays.ts';

const play = readPlay('lantern');
const [written] = play.cards;

/** Rules over two facts: what the key does, and whether a man stands outside. */
const ruled = (
  policy: 'unique' | 'first',
  rules: readonly (readonly [string, readonly string[], boolean | null])[],
): ReadCard =>
  readCardSchema.parse({
    ...written,
    head: { ...written?.head, policy, whenInDoubt: null },
    rows: rules.map(([branch, moves, outside], i) => ({
      id: `rule${i + 1}`,
      branch,
      says: '',
      conditions: [
        { kind: 'oneOf', fact: 'keyMove', values: moves },
        ...(outside === null ? [] : [{ kind: 'is', fact: 'manOutside', value: outside }]),
      ],
    })),
  });

const every = ['rush', 'drop', 'wall', 'widen', 'man', 'sit'];
const stays = every.filter((move) => move !== 'rush');
const overlapping = [
  ['in', ['rush'], null],
  ['sit', every, true],
  ['out', stays, false],
] as const;

describe('DMN hit policies', () => {
  it('C1 R5 unique: the one overlap is reported, and there nothing answers', () => {
    const card = ruled('unique', overlapping);
    const { gaps, overlaps } = prove(play, card);
    expect(gaps).toEqual([]);
    expect(overlaps).toMatchObject([{ rows: ['rule1', 'rule2'], agree: false }]);
    expect(overlaps[0]?.regions).toMatchObject([
      [
        { name: 'keyMove', values: ['rush'] },
        { name: 'manOutside', values: [true] },
      ],
    ]);
  });

  it('C5 R5 first: the same rules overlap in order, and the first answers', () => {
    const card = ruled('first', overlapping);
    expect(prove(play, card)).toMatchObject({ gaps: [], overlaps: [], neverUsed: [] });
    const looks = builtInLooks.map((recipe) => alignLook(recipe, play));
    let both = 0;
    for (const look of looks) {
      const seen = evaluate(play, card, look, {});
      if (seen.key.kind !== 'one') continue;
      const rush = seen.key.defender.reactions.find(({ move }) => move === 'rush');
      if (!rush || seen.facts.manOutside !== true) continue;
      both++;
      expect(evaluate(play, card, look, { [seen.key.defender.id]: rush.id })).toMatchObject({
        row: 'rule1',
        fits: ['rule1', 'rule2'],
      });
    }
    expect(both).toBeGreaterThan(0);
  });

  it('N1 first: a rule masked by two earlier ones together, by neither alone', () => {
    const masked = ruled('first', [
      ['in', ['rush', 'drop'], null],
      ['out', ['wall', 'sit'], null],
      ['sit', ['drop', 'sit'], true],
    ]);
    expect(prove(play, masked).neverUsed).toEqual([
      { row: 'rule3', because: 'covered', by: ['rule1', 'rule2'] },
    ]);
    expect(
      prove(
        play,
        ruled('first', [
          ['in', ['rush', 'drop'], null],
          ['sit', ['drop', 'sit'], true],
        ]),
      ).neverUsed,
    ).toEqual([]);
  });

  it('G1 G4 completeness: what no rule mentions is missing', () => {
    const { gaps } = prove(
      play,
      ruled('unique', [
        ['in', ['rush'], null],
        ['out', ['drop', 'wall'], null],
      ]),
    );
    expect(gaps).toMatchObject([[{ name: 'keyMove', values: ['widen', 'man', 'sit'] }]]);
  });
});

describe('sets of categories', () => {
  it('C4 rules that meet pair by pair need not meet: {in, out}, {out, sit}, {in, sit} have three overlaps of two (Helly’s theorem fails for sets)', () => {
    // Worked out by hand; the analogue for intervals, where pairs suffice, is Helly 1923.
    const card = ruled('unique', [
      ['in', ['drop', 'wall'], null],
      ['out', ['wall', 'sit'], null],
      ['sit', ['drop', 'sit'], null],
    ]);
    const told = prove(play, card).overlaps.map(({ rows, regions }) => [rows.join('+'), regions]);
    expect(told).toMatchObject([
      ['rule1+rule2', [[{ values: ['wall'] }]]],
      ['rule1+rule3', [[{ values: ['drop'] }]]],
      ['rule2+rule3', [[{ values: ['sit'] }]]],
    ]);
  });
});
