import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { backs, receivers, receiversWithBacks, strength, strengthWithReason } from './count.ts';
import type { Player } from './play.ts';
import {
  anyDrawing,
  formationPlay,
  id,
  midfield,
  mirrorPlay,
  playOf,
  withMotion,
} from './plays.test-kit.ts';

const labels = (players: readonly Player[]): string[] => players.map(({ label }) => label);

describe('counting', () => {
  it('counts from the sideline in', () => {
    const { left, right } = receivers(formationPlay('trips'));
    expect(labels(left)).toEqual(['X']);
    expect(labels(right)).toEqual(['Z', 'H', 'A']);
  });

  it('leaves the back out, and counts him last where he is asked for', () => {
    const play = formationPlay('doubles');
    expect(labels(backs(play))).toEqual(['F']);
    expect(labels(receiversWithBacks(play).left)).toEqual(['X', 'A', 'F']);
    expect(labels(receiversWithBacks(play).right)).toEqual(['Z', 'H']);
  });

  it('keeps a deep back in the backfield though he is offset wide, and counts a wing', () => {
    const wide = (x: number, y: number) => {
      const play = formationPlay('doubles');
      const players = play.players.map((player) =>
        player.label === 'F' ? { ...player, at: [x, y] as const } : player,
      );
      return labels(backs({ ...play, players }));
    };
    expect(wide(4.5, -5)).toEqual(['F']);
    expect(wide(4.5, -1.5)).toEqual([]);
    expect(wide(6, -5)).toEqual([]);
  });

  it('counts anew at the snap: who has crossed the ball counts on the new side', () => {
    const play = withMotion(formationPlay('doubles'), 'a', { path: [[16, 0]], atSnap: 'moving' });
    const { left, right } = receivers(play);
    expect(labels(left)).toEqual(['X']);
    expect(labels(right)).toEqual(['Z', 'H', 'A']);
  });

  it('makes the man nearer the line the point of a stack', () => {
    const receiver = (label: string, x: number, y: number): Player => ({
      id: id(label),
      label,
      position: 'WR',
      number: 1,
      at: [x, y],
    });
    const stack = playOf([
      receiver('B', 12.3, -2),
      receiver('A', 12, -0.5),
      receiver('C', 8, -1.5),
    ]);
    expect(labels(receivers(stack).right)).toEqual(['A', 'B', 'C']);
  });

  it('counts everybody but the line and the passer exactly once', () => {
    fc.assert(
      fc.property(anyDrawing, (play) => {
        const { left, right } = receivers(play);
        const counted = [...left, ...right, ...backs(play)].map((player) => player.id);
        expect(new Set(counted).size).toBe(counted.length);
        const skill = play.players.filter(({ position }) => !['C', 'G', 'T'].includes(position));
        expect(skill.length - counted.length).toBeGreaterThanOrEqual(0);
        expect(skill.length - counted.length).toBeLessThanOrEqual(1);
      }),
    );
  });
});

describe('strength', () => {
  it('is the side with more receivers', () => {
    expect(strengthWithReason(formationPlay('trips', { strength: 'left' }))).toEqual({
      side: 'left',
      because: 'receivers',
    });
  });

  it('of an even formation is the wide side of the field', () => {
    const play = formationPlay('doubles', { situation: { ...midfield, spot: 'right' } });
    expect(strengthWithReason(play)).toEqual({ side: 'left', because: 'field' });
  });

  it('then the side of a tackle moved over, whatever end is on the other', () => {
    expect(strengthWithReason(formationPlay('unbalanced', { strength: 'left' }))).toEqual({
      side: 'left',
      because: 'line',
    });
  });

  it('then the side of the tight end, then away from the back', () => {
    const tight = formationPlay('doubles-tight-end', { strength: 'left' });
    expect(strengthWithReason(tight)).toEqual({ side: 'left', because: 'tightEnd' });
    expect(strengthWithReason(formationPlay('doubles'))).toEqual({
      side: 'right',
      because: 'back',
    });
  });

  it('of a formation that is the same on both sides is right, by custom', () => {
    expect(strengthWithReason(playOf([]))).toEqual({ side: 'right', because: 'custom' });
  });

  it('turns with the play wherever custom did not have to decide', () => {
    fc.assert(
      fc.property(anyDrawing, (play) => {
        fc.pre(strengthWithReason(play).because !== 'custom');
        expect(strength(mirrorPlay(play))).not.toBe(strength(play));
      }),
    );
  });
});
