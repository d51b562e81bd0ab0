import { positionAt } from '@stemline/football/footwork/timed-path';
import { distance, type Point, pathLength } from '@stemline/football/geometry';
import type { Route } from '@stemline/football/play';
import { roundedRadius } from '@stemline/football/route';
import { describe, expect, it } from 'vitest';
import type { RuledPlay } from '../ruled-play.ts';
import { doubles, h } from '../testing/cards.ts';
import { bent } from './bends.ts';
import { drawnClock } from './receiver-clock.ts';

const clockOf = (shape: Route['shape'], finish: Route['finish']) => {
  const route: Route = {
    name: '',
    release: { side: 'free', hesitate: 0 },
    stem: [[0, 12]],
    finish,
    shape,
  };
  const play: RuledPlay = { ...doubles(), routes: { [h]: route } };
  const player = play.players.find(({ id }) => id === h);
  const clock = player && drawnClock(play, player);
  if (!clock) throw new Error('no clock');
  return clock;
};

describe('a break that is run round', () => {
  it('T2 goes off its drawing by no more than the bend, and ends where the sharp one does', () => {
    const way: Point[] = [
      [0, 10],
      [8, 10],
    ];
    const { points, at } = bent([0, 0], way, roundedRadius);
    expect(at).toEqual([1, 3]);
    expect(points.at(-1)).toEqual([8, 10]);
    expect(distance(points[1] as Point, [0, 10])).toBeLessThan(roundedRadius);
    expect(pathLength([[0, 0], ...points])).toBeLessThan(pathLength([[0, 0], ...way]));
    expect(bent([0, 0], way, 0)).toEqual({ points: way, at: [0, 1] });
  });

  it.each([
    ['a dig', [[-8, 12]]],
    ['a post', [[-6, 24]]],
    ['an out', [[6, 12]]],
  ] as const)('T2 %s is run faster round than cut', (_, finish) => {
    const [sharp, round] = [clockOf('sharp', finish), clockOf('rounded', finish)];
    expect(round.drawnUntil).toBeLessThan(sharp.drawnUntil - 0.01);
    expect(sharp.drawnUntil - round.drawnUntil).toBeLessThan(0.6);
    expect(round.breaks?.at).toEqual(sharp.breaks?.at);
    expect(Math.abs((round.breaks?.seconds ?? 9) - (sharp.breaks?.seconds ?? 0))).toBeLessThan(0.3);
    const [a, b] = [round, sharp].map(({ path, drawnUntil }) => positionAt(path, drawnUntil));
    expect(distance(a as Point, b as Point)).toBeLessThan(1e-6);
  });

  it('T2 a way without a corner is the same either way', () => {
    expect(clockOf('rounded', []).drawnUntil).toBe(clockOf('sharp', []).drawnUntil);
  });
});
