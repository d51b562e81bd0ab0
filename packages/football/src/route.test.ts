import { describe, expect, it } from 'vitest';
import { halfWidth } from './field.ts';
import { landmarks } from './landmark.ts';
import type { Route } from './play.ts';
import { formationPlay, midfield } from './plays.test-kit.ts';
import { breakDepth, breakPoint, insideSign, routePoints } from './route.ts';
import { routeTree, treeRoute } from './route-tree.ts';

const out: Route = {
  release: { side: 'free', hesitate: 0 },
  stem: [
    [1, 3],
    [1, 5],
  ],
  finish: [[7, 5]],
  shape: 'sharp',
  name: 'out',
};

describe('route', () => {
  const player = { at: [10, -1] } as const;

  it('starts where its player stands and breaks where its stem ends', () => {
    expect(routePoints(player, out)).toEqual([
      [10, -1],
      [11, 2],
      [11, 4],
      [17, 4],
    ]);
    expect(breakPoint(player, out)).toEqual([11, 4]);
  });

  it('breaks so deep past the line, wherever behind it he stands', () => {
    expect(breakDepth(player, out)).toBe(4);
    expect(breakDepth({ at: [10, -7] }, out)).toBe(-2);
  });

  it('inside is toward the ball, not toward the middle of the field', () => {
    expect(insideSign(10, 0)).toBe(-1);
    expect(insideSign(-10, 0)).toBe(1);
    expect(insideSign(-3, -6.7)).toBe(-1);
  });
});

describe('route tree', () => {
  /** Common practice, no single source: even numbers break toward the middle, odd toward the sideline. */
  it('breaks in on even numbers and out on odd ones, to either side of the ball', () => {
    for (const [number, { name }] of routeTree.entries()) {
      if (name === 'go') continue;
      for (const x of [-12, 12]) {
        const route = treeRoute(number, x, 0);
        const across = route?.finish.at(-1)?.[0] ?? 0;
        const inward = Math.sign(across) === insideSign(x, 0);
        expect(inward, `${number} ${name} at ${x}`).toBe(number % 2 === 0);
      }
    }
  });

  it('has ten routes and no more', () => {
    expect(routeTree).toHaveLength(10);
    expect(treeRoute(10, 5, 0)).toBeNull();
  });
});

describe('landmarks', () => {
  it('name every line of the field of the play', () => {
    const play = formationPlay('doubles', { situation: { ...midfield, spot: 'left', toGoal: 12 } });
    const byName = new Map(landmarks('college', play).map((line) => [line.name, line.at]));
    expect(byName.get('ball')).toBeCloseTo(-6.6667, 4);
    expect(byName.get('right sideline')).toBe(halfWidth);
    expect(byName.get('goal line')).toBe(12);
    expect(byName.get('end line')).toBe(22);
    expect(byName.get('left bottom of the numbers')).toBeCloseTo(-(halfWidth - 7), 9);
  });
});
