import { type Formation, formations, type Ground, playersOf, structureOf } from './formation.ts';
import { distance } from './geometry.ts';
import { perFormation } from './per-formation.ts';
import type { Play, Player } from './play.ts';

/** Who stands no further than this from a formation's spot stands on it. Yards. */
const onSpot = 0.6;

const standsAs = (players: readonly Player[], spots: readonly Player[]): boolean =>
  players.length === spots.length &&
  spots.every((spot) =>
    players.some((man) => man.position === spot.position && distance(man.at, spot.at) <= onSpot),
  );

interface LinedUp {
  readonly formation: Formation;
  /** Whoever tells formations apart comes first: the line stands alike in nearly all. */
  readonly spots: readonly Player[];
}

/** Every formation to either side on each of the few grounds, by rule code and hash. */
const allOn = new Map<string, readonly LinedUp[]>();

function formationsOn(situation: Ground): readonly LinedUp[] {
  const key = `${situation.code} ${situation.spot}`;
  const known = allOn.get(key);
  if (known) return known;
  const all = formations.flatMap((formation) =>
    (['right', 'left'] as const).map((strength) => ({
      formation,
      spots: playersOf(formation.id, { strength, situation }).reverse(),
    })),
  );
  allOn.set(key, all);
  return all;
}

const linedUpAs = perFormation(
  ({ players, situation }) =>
    formationsOn(situation).find(({ spots }) => standsAs(players, spots))?.formation,
);

/**
 * What a formation is called: "Trips, 3x1" where it is one that a staff starts from, else how many
 * receivers stand to each side. Where motion makes another of it, that is said: "Doubles, 2x2, to 3x1".
 */
export function formationName(play: Play): string {
  const { name: structure } = structureOf(play);
  const formation = linedUpAs(play);
  if (!formation) return structure;
  return formation.structure === structure ? formation.name : `${formation.name}, to ${structure}`;
}
