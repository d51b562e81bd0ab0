import type { FactName } from '../fact-name.ts';
import { bring, bringKey } from '../facts/bring.ts';
import type { Facts } from '../facts/declaration.ts';
import { type Draft, standing } from '../facts/draft.ts';
import { holds, type Region, type Side } from '../space/region.ts';
import { type Bench, type Claim, type Seen, seen } from './bench.ts';
import { crowded, isPlausible } from './plausible.ts';

/** Shelf looks that are tried as a start, the nearest first. */
const mostStarts = 6;
/** Changes looked at from one start. */
const mostSteps = 40;
const widestQueue = 24;

interface State extends Seen {
  readonly off: number;
}

/**
 * A defence that shows a claim, with its facts in the region, made from a shelf look by moving as few
 * men as it takes: best first over the changes that the facts themselves propose. Null when none was
 * found.
 */
export function buildDefence(bench: Bench, region: Region, claim: Claim): Seen | null {
  const starts = bench.called
    .filter(({ known }) => couldBe(region, known))
    .map((one) => ({ ...one, off: offBy(region, one.known) }))
    .sort((a, b) => a.off - b.off)
    .slice(0, mostStarts);
  for (const start of starts) {
    const found = searchFrom(bench, region, claim, start);
    if (found) return found;
  }
  return null;
}

/** What nobody can bring about must be right from the start. */
const couldBe = (region: Region, known: Partial<Facts>): boolean =>
  region.every((side) => bring[nameOf(side)] !== undefined || holds(side, known[nameOf(side)]));

const nameOf = (side: Side): FactName => side.name as FactName;

function searchFrom(bench: Bench, region: Region, claim: Claim, start: State): Seen | null {
  const queue: State[] = [start];
  const { toGoal } = bench.setting.play.situation;
  for (let step = 0; step < mostSteps; step++) {
    const best = queue.shift();
    if (!best) return null;
    const isThere = best.off === 0 && isPlausible(best, start, toGoal);
    if (isThere && !crowded(best.look) && claim(best)) return best;
    for (const draft of nextFrom(best, region)) {
      if (!isPlausible(draft, start, toGoal)) continue;
      const one = seen(bench, draft);
      queue.push({ ...one, off: offBy(region, one.known) });
    }
    queue.sort((a, b) => a.off - b.off);
    queue.length = Math.min(queue.length, widestQueue);
  }
  return null;
}

/** What is tried next: a fact that is off, or a key where there is none; then two men apart. */
function nextFrom(state: State, region: Region): readonly Draft[] {
  const { sighting, look, reactions, off } = state;
  const keyed = sighting.key === null ? bringKey(sighting, { look, reactions }) : [];
  if (off > 0) return [...changes(state, region), ...keyed];
  return crowded(look) ? partings(state) : keyed;
}

const changes = ({ sighting, known, look, reactions }: State, region: Region): readonly Draft[] =>
  region
    .filter((side) => !holds(side, known[nameOf(side)]))
    .flatMap((side) => bring[nameOf(side)]?.(sighting, { look, reactions }, side) ?? []);

/** Two men on one spot: the one who is not the key steps aside. */
function partings({ look, reactions, sighting }: State): readonly Draft[] {
  const pair = crowded(look);
  if (!pair) return [];
  const man = pair[0].id === sighting.key?.id ? pair[1] : pair[0];
  return [
    [0, 1],
    [1, 0],
    [-1, 0],
    [0, 2],
    [2, 0],
    [-2, 0],
  ].map(([x = 0, y = 0]) => standing({ look, reactions }, man, [man.at[0] + x, man.at[1] + y]));
}

/** How far a defence is from a region: one for each fact outside, and more the further it is. */
function offBy(region: Region, known: Partial<Facts>): number {
  return region.reduce((sum, side) => {
    const value = known[nameOf(side)];
    if (holds(side, value)) return sum;
    if (side.kind === 'values' || typeof value !== 'number') return sum + 2;
    const gap = value < side.from.at ? side.from.at - value : value - side.to.at;
    return sum + 1 + Math.min(1, Math.max(0, gap) / 20);
  }, 0);
}
