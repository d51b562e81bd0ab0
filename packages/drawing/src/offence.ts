import { add, type Point } from '@stemline/football/geometry';
import type { Motion, Play, Player, Route } from '@stemline/football/play';
import { breakPoint, roundedRadius, routePoints } from '@stemline/football/route';
import { settles } from '@stemline/football/route-end';
import type { Role } from './role.ts';
import type { Primitive } from './scene.ts';
import { arrowHead, direction, endDot, rounded, straight, trimStart, zigzag } from './stroke.ts';

/** Radius of a player's mark, yards: guards 1.4 yd apart keep daylight between them. */
export const markRadius = 0.64;
const arrow = 0.85;
/** The dot at the end of a route that stops. */
const dot = 0.4;

/** A circle with his label; the snapper is square (common practice, no single source). */
export function playerMark(player: Player, at: Point): Primitive[] {
  const size = player.label.length > 2 ? 0.5 : player.label.length > 1 ? 0.62 : 0.82;
  const body: Primitive =
    player.position === 'C'
      ? { kind: 'square', at, half: markRadius * 0.9, role: 'player' }
      : { kind: 'circle', at, radius: markRadius, role: 'player' };
  return [
    body,
    { kind: 'text', at, text: player.label, size, turn: 0, anchor: 'middle', role: 'playerLabel' },
  ];
}

/** Two short bars across the start of the stem: he hesitates before he goes. */
function hesitation(points: readonly Point[]): Primitive[] {
  const [from, to] = points;
  const d = from && to && direction(from, to);
  if (!from || !d) return [];
  return [0.5, 0.85].map((along): Primitive => {
    const at = add(from, [d[0] * along, d[1] * along]);
    const side: Point = [-d[1] * 0.36, d[0] * 0.36];
    return {
      kind: 'path',
      from: add(at, side),
      steps: [{ to: add(at, [-side[0], -side[1]]) }],
      role: 'route',
    };
  });
}

/**
 * A route from the edge of the player's mark to its end: an arrow when he runs on, a dot when he
 * stops there, nothing where it is only the stem of what follows.
 */
export function routeLine(
  player: Player,
  route: Route,
  { showBreak, isStem }: { showBreak: boolean; isStem: boolean },
): Primitive[] {
  const points = trimStart(routePoints(player, route), markRadius);
  if (points.length < 2) return [];
  const line =
    route.shape === 'rounded' ? rounded(points, roundedRadius, 'route') : straight(points, 'route');
  const end = isStem
    ? []
    : settles(route)
      ? endDot(points, dot, 'routeEnd')
      : arrowHead(points, arrow, 'routeEnd');
  const mark: Primitive[] =
    showBreak && route.finish.length > 0 && route.shape === 'sharp'
      ? [{ kind: 'circle', at: breakPoint(player, route), radius: 0.26, role: 'break' }]
      : [];
  return [...line, ...end, ...(route.release.hesitate > 0 ? hesitation(points) : []), ...mark];
}

/** Where motion takes him: zigzag when he is moving at the snap, dashed when he is set again. */
export function motionLine(player: Player, motion: Motion): Primitive[] {
  const points = trimStart(
    [player.at, ...motion.path.map((offset) => add(player.at, offset))],
    markRadius,
  );
  const end = points.at(-1);
  if (!end) return [];
  const moving = motion.atSnap === 'moving';
  return [
    ...straight(moving ? zigzag(points, 0.9, 0.26) : points, moving ? 'motion' : 'shift'),
    ...arrowHead(points, 0.6, 'motionEnd'),
  ];
}

/** A line beside the play's own: a branch, an earlier version. */
export function extraLine(
  points: readonly Point[],
  end: 'arrow' | 'dot' | 'none',
  line: Role,
  tip: Role,
): Primitive[] {
  const ends =
    end === 'arrow' ? arrowHead(points, arrow, tip) : end === 'dot' ? endDot(points, dot, tip) : [];
  return [...straight(points, line), ...ends];
}

/** The spots, lines and ends that differ between two drawings of one play, as they were before. */
export function beforeLines(before: Play, after: Play): { player: Player; items: Primitive[] }[] {
  const now = new Map(after.players.map((player) => [player.id, player]));
  const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);
  return before.players.flatMap((player) => {
    const current = now.get(player.id);
    const route = before.routes[player.id];
    const moved = !current || !same(current.at, player.at);
    const rerouted = !same(route, after.routes[player.id]);
    if (!moved && !rerouted) return [];
    const mark: Primitive[] = moved
      ? [
          { kind: 'circle', at: player.at, radius: markRadius, role: 'before' },
          {
            kind: 'text',
            at: player.at,
            text: player.label,
            size: 0.6,
            turn: 0,
            anchor: 'middle',
            role: 'beforeLabel',
          },
        ]
      : [];
    const points = route ? trimStart(routePoints(player, route), markRadius) : [];
    const end = route && settles(route) ? 'dot' : 'arrow';
    return [{ player, items: [...extraLine(points, end, 'before', 'beforeEnd'), ...mark] }];
  });
}
