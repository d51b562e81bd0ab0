import type { Offset } from './geometry.ts';
import type { Route } from './play.ts';
import { insideSign } from './route.ts';

/** A route of the numbered tree, for a man who breaks to the right when he breaks out. */
interface TreeRoute {
  readonly name: string;
  /** Yards upfield of his alignment at which he breaks. */
  readonly breakAt: number;
  /** From the break: yards outside (negative is inside) and upfield. */
  readonly finish: readonly Offset[];
}

/**
 * One common numbering of the route tree: even numbers break toward the middle, odd toward the
 * sideline. Depths are common practice, no single source.
 */
export const routeTree: readonly TreeRoute[] = [
  { name: 'hitch', breakAt: 6, finish: [[-0.5, -1]] },
  { name: 'out', breakAt: 5, finish: [[8, 0]] },
  { name: 'slant', breakAt: 3, finish: [[-8, 8]] },
  { name: 'comeback', breakAt: 15, finish: [[3, -2]] },
  { name: 'curl', breakAt: 12, finish: [[-1.5, -2]] },
  { name: 'deep out', breakAt: 12, finish: [[10, 0]] },
  { name: 'dig', breakAt: 12, finish: [[-12, 0]] },
  { name: 'corner', breakAt: 12, finish: [[8, 8]] },
  { name: 'post', breakAt: 12, finish: [[-8, 12]] },
  { name: 'go', breakAt: 12, finish: [[0, 15]] },
];

/** The numbered route for a man who stands at `x`, turned so that in is toward the ball; null for no such number. */
export function treeRoute(number: number, x: number, ballX: number): Route | null {
  const route = routeTree[number];
  if (!route) return null;
  const out = -insideSign(x, ballX);
  return {
    release: { side: 'free', hesitate: 0 },
    stem: [[0, route.breakAt]],
    finish: route.finish.map(([outside, up]) => [out * outside + 0, route.breakAt + up]),
    shape: 'sharp',
    name: route.name,
  };
}
