/**
 * A bound on the work of one proof. Whether rows leave a hole is as hard as satisfiability, so some
 * table will always be too tangled; a proof that runs out says so and claims nothing it has not seen.
 */
export class Effort {
  private left: number;
  /** `most`: how many rows may be looked at, counted again for each box that they are held against. */
  constructor(most: number) {
    this.left = most;
  }
  /** Takes what a step costs; false when there is not that much left. */
  spend(cost: number): boolean {
    this.left -= cost;
    return this.left >= 0;
  }
  get isSpent(): boolean {
    return this.left < 0;
  }
}
