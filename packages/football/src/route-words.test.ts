import { describe, expect, it } from 'vitest';
import type { Point } from './geometry.ts';
import type { Route } from './play.ts';
import { routeTree, treeRoute } from './route-tree.ts';
import { routeInWords } from './route-words.ts';

const route = (
  stem: Route['stem'],
  finish: Route['finish'] = [],
  change: Partial<Route> = {},
): Route => ({
  release: { side: 'free', hesitate: 0 },
  stem,
  finish,
  shape: 'sharp',
  name: '',
  ...change,
});
const yd = (yards: number): string => `${Math.round(yards * 10) / 10} yd`;
const words = (at: Point, run: Route): string => routeInWords({ at }, run, 0, yd);

/** A slot to the left, a yard behind the line, and a back. */
const slot: Point = [-8, -1];
const back: Point = [-1, -5];

describe('a route in words', () => {
  it('breaks so deep past the line, in or out as it is for him', () => {
    expect(words(slot, route([[0, 6]], [[6, 7]]))).toBe('breaks in at 5 yd');
    expect(words(slot, route([[0, 6]], [[-6, 6]]))).toBe('breaks out at 5 yd');
    expect(words([8, -1], route([[0, 6]], [[6, 7]]))).toBe('breaks out at 5 yd');
  });

  it('says of a back that he is behind the line, and of nobody that he breaks at 0 yd', () => {
    const swing = route([[-4, -0.5]], [[-9, 1.5]], { shape: 'rounded' });
    expect(words(back, swing)).toBe('bends out 5.5 yd behind the line');
    expect(words(back, route([[-2, 5]], [[-8, 7]]))).toBe('breaks out at the line');
    expect(words(back, route([[-8, 0]]))).toBe('runs out, drawn to 5 yd behind the line');
    expect(words(back, route([[-6, 5]]))).toBe('runs out, drawn to the line');
  });

  it('says of a straight one that he runs on, and how far he is drawn', () => {
    expect(words(slot, route([[0, 24.5]]))).toBe('runs straight upfield, drawn to 23.5 yd');
    expect(words(slot, route([[0, 8]], [[0, 20]]))).toBe('runs straight upfield, drawn to 19 yd');
  });

  it('says of a seam that it bends, and of a wheel that it turns upfield', () => {
    expect(words(slot, route([[0, 9]], [[2, 22]]))).toBe('bends in at 8 yd');
    expect(words(back, route([[-6, 5]], [[-6, 25]]))).toBe('turns upfield at the line');
  });

  it('says of who stops that he sits down, or where he comes back to', () => {
    expect(words(slot, route([[0, 6]], [], { name: 'Hitch' }))).toBe('sits down at 5 yd');
    expect(words(slot, route([[0, 7]], [[1, 6]]))).toBe('breaks in at 6 yd and sits down');
    expect(words(slot, route([[0, 15]], [[-3, 12]]))).toBe(
      'breaks out at 14 yd and comes back to 11 yd',
    );
  });

  /** Common practice, no single source. */
  it('tells the route tree', () => {
    expect(
      routeTree.map(({ name }, i) => `${name}: ${words([10, 0], treeRoute(i, 10, 0) as Route)}`),
    ).toEqual([
      'hitch: breaks in at 6 yd and sits down',
      'out: breaks out at 5 yd',
      'slant: breaks in at 3 yd',
      'comeback: breaks out at 15 yd and comes back to 13 yd',
      'curl: breaks in at 12 yd and comes back to 10 yd',
      'deep out: breaks out at 12 yd',
      'dig: breaks in at 12 yd',
      'corner: breaks out at 12 yd',
      'post: breaks in at 12 yd',
      'go: runs straight upfield, drawn to 27 yd',
    ]);
  });
});
