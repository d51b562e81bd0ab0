import type { Figure } from '../figure.ts';
import { besideZ3 } from './beside-z3.ts';
import { checks, rechecks, throws, wholeBook } from './checks.ts';
import type { Say } from './measure.ts';
import { stress } from './stress.ts';

const parts: Readonly<
  Record<string, (say: Say) => readonly Figure[] | Promise<readonly Figure[]>>
> = {
  check: checks,
  throws,
  recheck: rechecks,
  book: wholeBook,
  stress,
  z3: besideZ3,
};

/** The rule check's speed, part by part: check, throws, recheck, book, stress, z3; all where none is named. */
export async function engineBench(say: Say, only: readonly string[]): Promise<readonly Figure[]> {
  const figures: Figure[] = [];
  for (const [name, measure] of Object.entries(parts)) {
    if (only.length === 0 || only.includes(name)) figures.push(...(await measure(say)));
  }
  return figures;
}
