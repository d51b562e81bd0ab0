import { halfWidth } from '../field.ts';
import type { Point } from '../geometry.ts';
import type { Player } from '../play.ts';
import { outSign, type Picture, tackleX, widest } from './picture.ts';
import type { Anchor, Flank, Stand } from './recipe.ts';
import { techniqueOffset } from './technique.ts';

/** A receiver with a neighbour this near is in a cluster: only its point man can be pressed. Yards. */
const clusterWidth = 2.5;

/** Depth of a man who is off a cluster. Yards. */
const offCluster = 5;

/** How far outside the end of the line an overhang stands, and how deep he is off an attached man. Yards. */
const besideEdgeYards = 1.5;
const offAttached = 4;

/** A man this deep sees over the line, and may stand inside an attached man. Yards. */
const clearOfLine = 7;

/** A deep man stands no nearer the ball than this, and no wider than the bottom of the numbers. Yards. */
const shellInside = 5;

/** Inside the twenty depths shrink by this. Yards. */
const redZoneShrink = 2;

/** The least room behind a deep defender to the end line. Yards. */
const endLineRoom = 5;
const endZone = 10;

/** Nobody this shallow gives ground for want of room. Yards. */
const boxDepth = 6;

/** Where a rule places a defender, in the picture's frame; null where it needs somebody who isn't there. */
export function standAt(stand: Stand, picture: Picture, man: Player | null): Point | null {
  switch (stand.kind) {
    case 'over': {
      const receiver = picture.receivers[stand.side][stand.receiver - 1];
      return receiver ? over(receiver, stand, picture) : null;
    }
    case 'onMan':
      return man && !picture.backs.includes(man) ? over(man, stand, picture) : null;
    case 'apex':
      return apex(stand, picture);
    default:
      return anchorAt(stand, picture);
  }
}

/** The same for a place that needs nobody. */
export function anchorAt(anchor: Anchor, picture: Picture): Point {
  const { ball, line } = picture;
  switch (anchor.kind) {
    case 'technique': {
      const offset = techniqueOffset(anchor.technique, line[anchor.side]);
      return [ball + outSign(anchor.side) * offset, anchor.depth];
    }
    case 'edge':
      return [ball + outSign(anchor.side) * (line[anchor.side].edge + anchor.yards), anchor.depth];
    case 'fromBall':
      return [ball + outSign(anchor.side) * anchor.yards, anchor.depth];
    case 'post':
      return [ball / 2, anchor.depth];
    case 'shell':
      return [shellX(anchor.side, picture), anchor.depth];
  }
}

function over(
  receiver: Player,
  { inside, depth }: { inside: number; depth: number },
  picture: Picture,
): Point {
  const flank: Flank = receiver.at[0] >= picture.ball ? 'strong' : 'weak';
  const y = isOffCluster(receiver, picture) ? Math.max(depth, offCluster) : depth;
  if (y < clearOfLine && isAttached(receiver, flank, picture))
    return besideEdge(flank, Math.max(y, offAttached), picture);
  const x = receiver.at[0] - outSign(flank) * inside;
  return [Math.min(Math.max(x, -widest), widest), y];
}

/** In a cluster, and another man of it is nearer the line. */
function isOffCluster(receiver: Player, { receivers }: Picture): boolean {
  return [...receivers.strong, ...receivers.weak].some(
    (other) =>
      other.at[1] > receiver.at[1] && Math.abs(other.at[0] - receiver.at[0]) <= clusterWidth,
  );
}

function apex(stand: Extract<Stand, { kind: 'apex' }>, picture: Picture): Point | null {
  const { side: flank, toward, depth } = stand;
  const side = picture.receivers[flank];
  const receiver = side[stand.receiver - 1];
  if (!receiver) return null;
  if (isAttached(receiver, flank, picture)) return besideEdge(flank, depth, picture);
  const other =
    toward === 'outside'
      ? side[stand.receiver - 2]?.at[0]
      : (side[stand.receiver]?.at[0] ?? tackleX(picture, flank));
  return other === undefined ? null : [(receiver.at[0] + other) / 2, depth];
}

/** Attached to the line, he is played from outside it by whoever is off the ball: inside him is the front. */
function isAttached(receiver: Player, flank: Flank, picture: Picture): boolean {
  const { edge } = picture.line[flank];
  return outSign(flank) * (receiver.at[0] - picture.ball) <= edge + 1e-6;
}

const besideEdge = (flank: Flank, depth: number, picture: Picture): Point => [
  picture.ball + outSign(flank) * (picture.line[flank].edge + besideEdgeYards),
  depth,
];

function shellX(flank: Flank, picture: Picture): number {
  const out = outSign(flank);
  const [first, second] = picture.receivers[flank];
  const tackle = tackleX(picture, flank);
  const wanted = second ? second.at[0] : first ? (first.at[0] + tackle) / 2 : tackle;
  const numbers = halfWidth - picture.field.numbers.bottom;
  const fromBall = out * (wanted - picture.ball);
  const most = Math.max(numbers - out * picture.ball, shellInside);
  return picture.ball + out * Math.min(Math.max(fromBall, shellInside), most);
}

/** The depth that a rule must ask for, so that a man ends up this deep where room behind shrinks. */
export const depthFor = (depth: number, { toGoal }: Picture): number =>
  depth > boxDepth && toGoal <= 20 ? depth + redZoneShrink : depth;

/** Near the goal line there is no room behind: a depth past the box shrinks, and keeps off the end line. */
export function roomBehind([x, depth]: Point, { toGoal }: Picture): Point {
  if (depth <= boxDepth) return [x, depth];
  const shrunk = toGoal <= 20 ? depth - redZoneShrink : depth;
  return [x, Math.max(boxDepth, Math.min(shrunk, toGoal + endZone - endLineRoom))];
}
