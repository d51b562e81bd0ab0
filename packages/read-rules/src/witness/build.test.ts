import { playersOf } from '@stemline/football/formation';
import { playerIdSchema } from '@stemline/football/ids';
import { builtInLooks } from '@stemline/football/shelf';
import { describe, expect, it } from 'vitest';
import { check } from '../check.ts';
import { evaluate } from '../evaluate.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { branch, card, head, is, range, row, situation } from '../testing/cards.ts';

/** The only receiver to his side: by nobody but his corner is he ever read. */
const x = playerIdSchema.parse('x');
const splitBacks = (
  rows: ReturnType<typeof row>[],
  change: Parameters<typeof head>[0] = {},
): RuledPlay => ({
  name: 'Split backs',
  concept: '',
  situation,
  players: playersOf('two-backs', { strength: 'right', situation }),
  routes: {},
  motions: {},
  cards: [
    {
      ...card(rows, { policy: 'unique', ...change }),
      player: x,
      branches: [branch('in'), branch('out'), branch('sit')],
    },
  ],
});
const told = (play: RuledPlay, kind: 'gap' | 'clash') =>
  check(play, builtInLooks).filter((one) => one.kind === kind);

describe('a defence made for a finding', () => {
  it('W1 W2 has a key where the card answers for none, though no row asks about him', () => {
    const play = splitBacks(
      [
        row('bracketed', 'sit', is('manOutside', true)),
        row('tight', 'out', range('roomInside', ',2)')),
        row('free', 'in', is('manOutside', false), range('roomInside', '[2,')),
      ],
      { noKey: branch('in').id },
    );
    const [clash, ...others] = told(play, 'clash');
    expect(others).toEqual([]);
    expect(clash?.severity).toBe('stop');
    const [read] = play.cards;
    if (!clash?.witness || !read) throw new Error('no witness');
    const seen = evaluate(play, read, clash.witness.look, clash.witness.reactions);
    expect(seen.key.kind).toBe('one');
    expect(seen.fits).toEqual(['bracketed', 'tight']);
  });

  it('W2 moves nobody to where no man of his level stands', () => {
    const play = splitBacks([row('shallow', 'in', range('keyDepth', ',3]'))], {
      key: { ...head().key, levels: ['line'], reach: 30 },
    });
    const [gap] = told(play, 'gap');
    expect(gap?.severity).toBe('note');
    expect(gap?.witness).toBeNull();
  });

  it('W2 sends neither so many that nobody covers nor hardly anybody', () => {
    const play = splitBacks([row('some', 'in', range('rushers', '[2,8]'))]);
    expect(told(play, 'gap').map(({ severity }) => severity)).toEqual(['note', 'note']);
    const fewer = splitBacks([row('some', 'in', range('rushers', '[2,7]'))]);
    expect(told(fewer, 'gap').map(({ severity }) => severity)).toEqual(['stop', 'note']);
  });
});
