import { ballX, halfWidth } from '@stemline/football/field';
import type { Point } from '@stemline/football/geometry';
import type { Play } from '@stemline/football/play';
import { routePoints } from '@stemline/football/route';
import { atSnap } from '@stemline/football/snap';
import type { View } from './scene.ts';

/**
 * `field`: the whole width; `play`: cropped to the men and all that they run; `formation`: the same,
 * but no deeper than a low window has room for.
 */
export type Frame = 'field' | 'play' | 'formation' | View;

const behind = 8;
const downfield = 25;
/** A route that goes on past this is cut. */
const furthest = 45;
const furthestOfFormation = 20;

/** Yards to either side of the ball, behind the line and past it, in which a play is protected. */
const boxHalf = 14;
const boxBehind = 10;
const boxPast = 8;

/** Where the passer is protected: the line, who comes, and who stays in. */
export const boxOf = ({ situation }: Play): View => ({
  left: ballX(situation) - boxHalf,
  bottom: -boxBehind,
  width: 2 * boxHalf,
  height: boxBehind + boxPast,
});

/** The part of the field a play is shown on, yards; `more` are spots that it has to hold besides. */
export function viewOf(play: Play, frame: Frame, more: readonly Point[] = []): View {
  if (typeof frame === 'object') return frame;
  const snapped = atSnap(play);
  const points: Point[] = snapped.flatMap((player) => {
    const route = play.routes[player.id];
    return [player.at, ...(route ? routePoints(player, route) : [])];
  });
  points.push(...play.players.map((player) => player.at), ...more);
  const xs = points.map((point) => point[0]);
  const ys = points.map((point) => point[1]);
  const bottom = Math.min(-behind, ...ys.map((y) => Math.floor(y - 1.5)));
  const deepest = Math.min(furthest, Math.max(0, ...ys.map((y) => y + 2)));
  if (frame === 'field' || xs.length === 0) {
    const left = -halfWidth - 1.2;
    return { left, bottom, width: -left * 2, height: Math.max(downfield, deepest) - bottom };
  }
  const left = Math.max(-halfWidth - 1, Math.min(...xs) - 2.4);
  const right = Math.min(halfWidth + 1, Math.max(...xs) + 2.4);
  const width = Math.max(24, right - left);
  const middle = (left + right) / 2;
  const top = Math.max(14, frame === 'play' ? deepest : Math.min(furthestOfFormation, deepest));
  return { left: middle - width / 2, bottom, width, height: top - bottom };
}
