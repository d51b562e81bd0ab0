import type { Air } from '@stemline/football/flight/ball';
import { Solver } from 'odex';

/** Place and velocity in the plane of flight: along the ground, up. */
export type Moving = readonly [x: number, y: number, vx: number, vy: number];

/**
 * The same ball by an independent library: E. Hairer's ODEX (extrapolation, variable order), on the
 * plain equations of motion in time. Nothing of our own formulas is used.
 */
export function flownFor(air: Air, from: Moving, seconds: number): Moving {
  if (seconds === 0) return from;
  const solver = new Solver(4);
  solver.relativeTolerance = 1e-13;
  solver.absoluteTolerance = 1e-13;
  solver.maxSteps = 100_000;
  const { y } = solver.solve(
    (_, [, , vx = 0, vy = 0]) => {
      const slowing = air.drag * Math.hypot(vx, vy);
      return [vx, vy, -slowing * vx, -air.gravity - slowing * vy];
    },
    0,
    [...from],
    seconds,
  );
  const [x = Number.NaN, height = Number.NaN, vx = Number.NaN, vy = Number.NaN] = y;
  return [x, height, vx, vy];
}

export const launched = (speed: number, degrees: number, height: number): Moving => [
  0,
  height,
  speed * Math.cos((degrees * Math.PI) / 180),
  speed * Math.sin((degrees * Math.PI) / 180),
];
