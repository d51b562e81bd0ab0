import { lookIdSchema } from '@stemline/football/ids';
import type { AlignedLook } from '@stemline/football/look';
import type { FactName } from './fact-name.ts';
import type { Witness } from './finding.ts';
import { describeFacts } from './sentence.ts';
import { holds, type Region } from './space/region.ts';
import { type Bench, type Claim, type Seen, showsBeforeSnap } from './witness/bench.ts';
import { buildDefence } from './witness/build.ts';

/**
 * A defence that shows a claim inside a region: one of the shelf if any does, else one made from it.
 * Null when none was found, which proves nothing.
 */
export function findWitness(
  bench: Bench,
  regions: readonly Region[],
  claim: Claim,
): Witness | null {
  const shows = (one: Seen): boolean => regions.some((region) => liesIn(one, region)) && claim(one);
  const fromShelf = bench.called.find(shows) ?? otherReactions(bench, regions, shows);
  if (fromShelf) return witnessOf(bench, fromShelf);
  for (const region of regions) {
    const made = buildDefence(bench, region, claim);
    if (made) return witnessOf(bench, { ...made, look: changed(made.look) });
  }
  return null;
}

/** The first called look that shows it with other reactions; what shows before the snap rules most out unseen. */
function otherReactions(
  bench: Bench,
  regions: readonly Region[],
  shows: (one: Seen) => boolean,
): Seen | null {
  const early = regions.map((region) =>
    region.filter(({ name }) => showsBeforeSnap(name as FactName)),
  );
  for (const called of bench.called) {
    if (!early.some((sides) => liesIn(called, sides))) continue;
    const found = bench.others(called).find(shows);
    if (found) return found;
  }
  return null;
}

const liesIn = ({ known }: Seen, region: Region): boolean =>
  region.every((side) => holds(side, known[side.name as keyof typeof known]));

const witnessOf = ({ card }: Bench, { look, reactions, known }: Seen): Witness => ({
  look,
  reactions,
  says: describeFacts(card, known),
});

/** A shelf look that has been changed is no longer that look, and says so. */
const changed = (look: AlignedLook): AlignedLook => ({
  ...look,
  id: lookIdSchema.parse(`${look.id.slice(0, 31)}-adjusted`),
  name: `${look.name.slice(0, 50)}, adjusted`,
});
