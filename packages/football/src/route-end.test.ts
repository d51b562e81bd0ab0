import { describe, expect, it } from 'vitest';
import type { Route } from './play.ts';
import { settles } from './route-end.ts';
import { routeTree, treeRoute } from './route-tree.ts';

const route = (stem: Route['stem'], finish: Route['finish'] = [], name = ''): Route => ({
  release: { side: 'free', hesitate: 0 },
  stem,
  finish,
  shape: 'sharp',
  name,
});

describe('who stops at the end of his route', () => {
  it('not one who only goes straight, however short his line is drawn', () => {
    expect(settles(route([[0, 25]], [], 'Go'))).toBe(false);
    expect(settles(route([[0, 6]]))).toBe(false);
  });

  it('one whose route is called after a stop, unless he goes on from it', () => {
    expect(settles(route([[0, 6]], [], 'Quick hitch'))).toBe(true);
    expect(settles(route([[0, 8]], [], 'Sit'))).toBe(true);
    expect(settles(route([[0, 25]], [], 'Hitch and go'))).toBe(false);
    expect(settles(route([[0, 6]], [], 'Transit'))).toBe(false);
  });

  it('one who was given a stop at the end of his stem', () => {
    const stem = [
      [0, 4],
      [0, 8],
    ] as const;
    expect(settles(route(stem))).toBe(true);
  });

  /** Common practice, no single source: of the tree, hitch, comeback and curl come back to the ball. */
  it('of the route tree, those who turn back', () => {
    const who = routeTree.filter((_, number) => {
      const run = treeRoute(number, 10, 0);
      return run !== null && settles(run);
    });
    expect(who.map(({ name }) => name)).toEqual(['hitch', 'comeback', 'curl']);
  });
});
