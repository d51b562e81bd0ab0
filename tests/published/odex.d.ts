/** odex 2.0.4 ships no declarations that strict TypeScript accepts; this is what the tests use of it. */
type Derivative = (x: number, y: number[]) => number[];
type Output = (
  n: number,
  xOld: number,
  x: number,
  y: number[],
  interpolate: (component: number, x: number) => number,
) => boolean | undefined;
export class Solver {
  constructor(dimensions: number);
  denseOutput: boolean;
  relativeTolerance: number;
  absoluteTolerance: number;
  maxSteps: number;
  maxStepSize: number;
  solve(f: Derivative, x: number, y0: number[], xEnd: number, out?: Output): { y: number[] };
}
