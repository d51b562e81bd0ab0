import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyDrawing, formationPlay, id, midfield, mirrorPlay } from './plays.test-kit.ts';
import { treeRoute } from './route-tree.ts';

describe('mirror', () => {
  it('done twice is the play itself', () => {
    fc.assert(
      fc.property(anyDrawing, (play) => {
        expect(mirrorPlay(mirrorPlay(play))).toEqual(play);
      }),
    );
  });

  it('turns routes, motions and the hash with the players', () => {
    const slant = treeRoute(2, 10, 0);
    const play = {
      ...formationPlay('doubles', { situation: { ...midfield, spot: 'left' } }),
      routes: slant ? { [id('z')]: slant } : {},
    };
    const mirrored = mirrorPlay(play);
    expect(mirrored.situation.spot).toBe('right');
    expect(mirrored.routes[id('z')]?.finish).toEqual([[8, 11]]);
    expect(play.routes[id('z')]?.finish).toEqual([[-8, 11]]);
  });
});
