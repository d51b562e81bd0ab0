import type { Move } from '@stemline/football/look';
import { describe, expect, it } from 'vitest';
import { branchIdSchema } from './card.ts';
import { evaluate } from './evaluate.ts';
import {
  branch,
  card,
  choose,
  defender,
  doubles,
  h,
  head,
  is,
  look,
  oneOf,
  q,
  range,
  row,
  slot,
} from './testing/cards.ts';

const [x] = slot();
const out = branchIdSchema.parse('out');
const nickel = defender('nickel', 'second', [x - 2, 5], ['drop', [x - 6, 10]], ['rush', [0, -5]]);
const answer = (read: ReturnType<typeof card>, defence = look(nickel), reactions = {}) =>
  evaluate(doubles(), read, defence, reactions);

describe('what a card answers', () => {
  const rows = [
    row('near', 'out', range('keyOffset', '[0,3]')),
    row('comes', 'in', is('keyRushes', true)),
  ];

  it('R5 first: the first row that fits', () => {
    const read = answer(card(rows, { policy: 'first' }), look(nickel), choose('nickel', 'rush'));
    expect(read).toMatchObject({ row: 'near', fits: ['near', 'comes'], branch: { name: 'OUT' } });
  });

  it('R5 unique: one row answers; several that disagree do not', () => {
    expect(answer(card(rows)).row).toBe('near');
    const both = answer(card(rows, { whenInDoubt: out }), look(nickel), choose('nickel', 'rush'));
    expect(both).toMatchObject({ row: null, branch: null, fits: ['near', 'comes'] });
  });

  it('R5 unique: several that agree answer alike', () => {
    const agree = [
      row('a', 'in', range('keyOffset', '[0,3]')),
      row('b', 'in', is('keyRushes', false)),
    ];
    expect(answer(card(agree))).toMatchObject({
      row: 'a',
      fits: ['a', 'b'],
      branch: { name: 'IN' },
    });
  });

  it('R6 no key: its own answer, else when in doubt, else nothing', () => {
    const nobody = look(defender('safety', 'deep', [0, 12]));
    expect(answer(card(rows), nobody)).toMatchObject({ row: 'noKey', branch: { name: 'IN' } });
    expect(answer(card(rows, { noKey: null, whenInDoubt: out }), nobody).row).toBe('whenInDoubt');
    expect(answer(card(rows, { noKey: null }), nobody).row).toBeNull();
  });

  it('R6 a card that never asks about its key is read without one', () => {
    const byFront = card([row('even', 'sit', oneOf('front', 'even'))], { noKey: null });
    expect(answer(byFront, look(defender('safety', 'deep', [0, 12]))).row).toBe('even');
  });

  it('R6 two keys: when in doubt', () => {
    const twins = look(nickel, defender('twin', 'second', [x - 2.2, 5]));
    expect(answer(card(rows, { whenInDoubt: out }), twins)).toMatchObject({
      row: 'whenInDoubt',
      key: { kind: 'tie' },
    });
    expect(answer(card(rows), twins).row).toBeNull();
  });

  it('R7 when in doubt answers where no row fits', () => {
    const far = look(defender('far', 'second', [x - 5, 5]));
    expect(answer(card(rows, { whenInDoubt: out }), far)).toMatchObject({
      row: 'whenInDoubt',
      branch: { name: 'OUT' },
    });
    expect(answer(card(rows), far).row).toBeNull();
  });

  it('R8 a man put on a bound is on it', () => {
    for (const yards of [0.1, 0.3, 0.7, 1.1, 2.2, 2.9]) {
      const on = look(defender('on', 'second', [x - yards, 5]));
      const read = card([row('exact', 'in', range('keyOffset', `[${yards},${yards}]`))]);
      expect(answer(read, on).row).toBe('exact');
    }
  });

  it('R9 gives its reasons in words', () => {
    expect(answer(card(rows), look(nickel), choose('nickel', 'drop')).reasons).toEqual([
      'NICK is the key: he sits 2.0 yd inside.',
      'The key does not rush.',
      'Row 1 answers: OUT.',
    ]);
    expect(answer(card(rows, { noKey: null }), look()).reasons).toContain('The scan finds no key.');
  });
});

describe('facts at the decision', () => {
  const free = look(
    defender(
      'nickel',
      'second',
      [x - 2, 4],
      ['sit', [x - 2, 4]],
      ['rush', [0, -5]],
      ['drop', [x - 12, 4]],
    ),
  );

  it('R4 room is to the nearest man level with him; a rusher takes none', () => {
    const facts = (reaction: Move) => answer(card([]), free, choose('nickel', reaction)).facts;
    expect(facts('sit').roomInside).toBe(2);
    expect(facts('rush').roomInside).toBe(20);
    const dropped = facts('drop').roomInside;
    expect(dropped).toBeGreaterThan(4);
    expect(dropped).toBeLessThan(12);
  });

  it('R4 room outside ends at the sideline', () => {
    const { roomOutside } = answer(card([]), look()).facts;
    expect(roomOutside).toBeCloseTo(80 / 3 - x, 5);
  });

  it('R4 the later he decides the further a defender has come', () => {
    const at = (decideBy: number) =>
      evaluate(
        doubles(),
        { ...card([]), branches: [branch('in', { decideBy })] },
        free,
        choose('nickel', 'drop'),
      ).facts.roomInside;
    expect(Number(at(2))).toBeLessThan(Number(at(4)));
  });

  it('R4 a man defender keeps his leverage on the runner', () => {
    const player = doubles().players.find(({ id }) => id === card([]).player);
    if (!player) throw new Error('no slot');
    const press = look(defender('man', 'second', [x - 0.75, 5], ['man', player.at]));
    expect(answer(card([]), press).facts).toMatchObject({ roomInside: 0.75, cushion: 1 });
  });

  it('R4 a passer measures the man he reads over, not himself', () => {
    const passer = {
      ...card([]),
      player: q,
      head: head({ key: { ...head().key, over: card([]).player } }),
      branches: [],
    };
    const play = {
      ...doubles(),
      routes: {
        [h]: {
          release: { side: 'free' as const, hesitate: 0 },
          stem: [[0, 6] as const],
          finish: [],
          shape: 'sharp' as const,
          name: '',
        },
      },
    };
    expect(evaluate(play, passer, free, {}).facts).toMatchObject({
      keyOffset: 2,
      roomInside: 2,
    });
  });

  it('finds the bracket on the side away from the scan', () => {
    const two = look(nickel, defender('out', 'corner', [x + 3, 5]));
    const wide = look(nickel, defender('out', 'corner', [x + 4.1, 5]));
    const deep = look(nickel, defender('out', 'corner', [x + 3, 8.5]));
    expect([two, wide, deep].map((defence) => answer(card([]), defence).facts.manOutside)).toEqual([
      true,
      false,
      false,
    ]);
  });

  it('says where the middle linebacker leans', () => {
    const lean = (off: number) =>
      answer(card([]), look(defender('mike', 'second', [off, 4.5]))).facts.mikeLean;
    expect([lean(1), lean(0.5), lean(-1), lean(5)]).toEqual(['toward', 'balanced', 'away', 'none']);
  });
});
