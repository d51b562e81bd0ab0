import { describe, expect, it } from 'vitest';
import { lineHalf } from './offensive-line.ts';
import type { Play, Player } from './play.ts';
import { formationPlay, id, midfield, playOf } from './plays.test-kit.ts';

const withMan = (play: Play, label: string, x: number, y = -0.5): Play => {
  const player: Player = { id: id(label), label, position: 'TE', number: 80, at: [x, y] };
  return { ...play, players: [...play.players.slice(1), player] };
};

describe('half of a line', () => {
  it('ends with the tackle where nobody is attached; an end is thought of where he would stand', () => {
    expect(lineHalf(formationPlay('doubles'), 'right')).toEqual({
      guard: 1.4,
      tackle: 2.8,
      end: expect.closeTo(4.2, 9),
      isCovered: false,
      tightEnd: false,
      edge: 2.8,
    });
  });

  it('is measured from the ball on its hash', () => {
    const play = formationPlay('doubles-tight-end', { situation: { ...midfield, spot: 'left' } });
    const half = lineHalf(play, 'right');
    expect(half.tackle).toBeCloseTo(2.8, 1);
    expect(half.tightEnd).toBe(true);
    expect(half.edge).toBeCloseTo(4.2, 1);
  });

  it('takes a wing a yard outside the end to it, and leaves a slot out', () => {
    const tightEnd = formationPlay('doubles-tight-end');
    expect(lineHalf(withMan(tightEnd, 'w', 5.4, -1.5), 'right').edge).toBe(5.4);
    expect(lineHalf(withMan(tightEnd, 'w', 6.4, -1.5), 'right').edge).toBe(4.2);
  });

  it('takes a tackle moved over for the end of his side, but for no tight end', () => {
    const play = formationPlay('unbalanced');
    expect(lineHalf(play, 'right')).toMatchObject({ isCovered: true, tightEnd: false });
    expect(lineHalf(play, 'left')).toMatchObject({ tackle: 1.4, tightEnd: true });
  });

  it('has usual splits where nobody is drawn', () => {
    expect(lineHalf(playOf([]), 'left')).toMatchObject({ guard: 1.4, tackle: 2.8 });
  });
});
