/**
 * Runs the parts of a check, by name. A check at one go simply runs each; a re-check gives back what a
 * part came to before, where what it was given is the same. Since a part is a function that sees nothing
 * but what it is given, nothing that it hangs on can be forgotten.
 */
export interface Keep {
  /** What the work comes to on these inputs. It must be a pure function of them. */
  of<In extends readonly unknown[], Out>(part: string, work: (...on: In) => Out, ...on: In): Out;
  /** Plain data: as it is, or the object from before that says the same. */
  same<Data>(part: string, data: Data): Data;
  /** What follows on what the part came to before; on nothing where it did not run. */
  next<Out>(part: string, work: (before: Out | null) => Out): Out;
  /** A list: as it is, or the one from before that has the same members. */
  list<Member>(part: string, list: readonly Member[]): readonly Member[];
}

/** Keeps nothing. */
export const afresh: Keep = {
  of: (_part, work, ...on) => work(...on),
  same: (_part, data) => data,
  next: (_part, work) => work(null),
  list: (_part, list) => list,
};
