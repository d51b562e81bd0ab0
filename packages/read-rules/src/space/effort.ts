/**
 * A bound on the work of one proof. Whether rows leave a hole is as hard as satisfiability, so some
 * table will always be too tangled; a proof that runs out says so and claims nothing it has not seen.
 */
export class Effort {
  private left: number;
  constructor(readonly cuts: number) {
    this.left = cuts;
  }
  /** Takes one step; false when there are none left. */
  spend(): boolean {
    this.left--;
    return this.left >= 0;
  }
  get isSpent(): boolean {
    return this.left < 0;
  }
}
