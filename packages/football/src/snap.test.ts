import { describe, expect, it } from 'vitest';
import { formationPlay, id, midfield, playOf, withMotion } from './plays.test-kit.ts';
import { atSnap, ballAt, passer, snapper } from './snap.ts';

describe('at the snap', () => {
  it('a man in motion stands at the end of his path, the others where they were', () => {
    const before = formationPlay('doubles');
    const play = withMotion(before, 'a', {
      path: [
        [1, -1],
        [9, -1],
      ],
      atSnap: 'moving',
    });
    const start = before.players.find(({ label }) => label === 'A')?.at ?? [0, 0];
    const moved = atSnap(play);
    expect(moved.find(({ label }) => label === 'A')?.at).toEqual([start[0] + 9, start[1] - 1]);
    expect(moved.filter(({ label }) => label !== 'A')).toEqual(
      before.players.filter(({ label }) => label !== 'A'),
    );
  });

  it('the centre nearest the ball snaps it and the quarterback behind him takes it', () => {
    const play = formationPlay('doubles', { situation: { ...midfield, spot: 'left' } });
    expect(snapper(play.players, ballAt(play))?.label).toBe('C');
    expect(passer(play.players, ballAt(play))?.label).toBe('Q');
  });

  it('a back takes it when the quarterback has left, and nobody when nobody is there', () => {
    const play = withMotion(formationPlay('doubles'), 'q', { path: [[15, 4]], atSnap: 'set' });
    expect(passer(atSnap(play), ballAt(play))?.label).toBe('F');
    const alone = { id: id('x'), label: 'X', position: 'WR', number: 1, at: [0, -5] } as const;
    expect(passer(playOf([alone]).players, [0, 0])).toBeNull();
    expect(snapper([alone], [0, 0])).toBeNull();
  });
});
