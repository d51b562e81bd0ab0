import { ballX } from '@stemline/football/field';
import { add, type Offset, type Point } from '@stemline/football/geometry';
import type { Play, Player } from '@stemline/football/play';
import { insideSign } from '@stemline/football/route';
import { atSnap } from '@stemline/football/snap';
import type { Branch, Finish, ReadCard, RouteBranch } from './card.ts';
import { clamp } from './measured.ts';
import { stemDepth, stemTo } from './stem.ts';

/**
 * Where a branch takes its player, absolute yards, from where he stands at the snap: his own stem
 * up to the branch's break, then the finish. He breaks where his drawn stem ends if the branch
 * allows that depth, else at the nearest depth that it allows. A target or a block moves nobody:
 * one point. Empty when the player is not on the field.
 */
export function branchPoints(play: Play, card: ReadCard, branch: Branch): Point[] {
  const player = atSnap(play).find(({ id }) => id === card.player);
  if (!player) return [];
  if (branch.kind !== 'route') return [player.at];
  const { stem, finish } = branchLine(play, player, branch);
  return [...stem, ...finish];
}

/** A way on the field in two parts: to the break, from where he stands at the snap, and on from it. */
export interface Line {
  readonly stem: readonly [Point, ...Point[]];
  readonly finish: readonly Point[];
}

/** The same, parted at the break. `player` stands where he is at the snap. */
export function branchLine(play: Play, player: Player, branch: RouteBranch): Line {
  const { from, to } = branch.breakAt;
  const depth = clamp(stemDepth(play, player) ?? from, from, Math.max(from, to));
  const stem = stemTo(play, player, depth);
  const breaksAt = stem[stem.length - 1] as Point;
  const sign = insideSign(player.at[0], ballX(play.situation));
  return {
    stem,
    finish: finishOffsets(branch.finish, sign).map((offset) => add(breaksAt, offset)),
  };
}

/** The finish as offsets from the break. */
function finishOffsets(finish: Finish, inside: 1 | -1): readonly Offset[] {
  switch (finish.kind) {
    case 'in':
      return [offUpfield(finish.angle, finish.run, inside)];
    case 'out':
      return [offUpfield(finish.angle, finish.run, -inside)];
    case 'on':
      return [[0, finish.run]];
    case 'sit':
      return [];
    case 'path':
      return finish.points;
  }
}

function offUpfield(degrees: number, run: number, sign: number): Offset {
  const angle = (degrees * Math.PI) / 180;
  return [sign * run * Math.sin(angle), run * Math.cos(angle)];
}
