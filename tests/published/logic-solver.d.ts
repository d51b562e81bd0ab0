/** The part of logic-solver (MIT; MiniSat 2.2) that the published checks use; it ships without types. */
declare module 'logic-solver' {
  export type Formula = string | { readonly formula: never };
  export interface Solution {
    getTrueVars(): string[];
  }
  export class Solver {
    require(...formulas: Formula[]): void;
    solve(): Solution | null;
    solveAssuming(formula: Formula): Solution | null;
  }
  export function not(formula: Formula): Formula;
  export function and(...formulas: (Formula | Formula[])[]): Formula;
  export function or(...formulas: (Formula | Formula[])[]): Formula;
  export function exactlyOne(...formulas: (Formula | Formula[])[]): Formula;
  const Logic: {
    readonly Solver: typeof Solver;
    readonly not: typeof not;
    readonly and: typeof and;
    readonly or: typeof or;
    readonly exactlyOne: typeof exactlyOne;
    readonly TRUE: Formula;
    readonly FALSE: Formula;
  };
  export default Logic;
}
