import { ballX } from '@stemline/football/field';
import { add, distance, type Point } from '@stemline/football/geometry';
import type { DefenderId, PlayerId } from '@stemline/football/ids';
import type { AlignedLook, ReactionChoice } from '@stemline/football/look';
import type { Play } from '@stemline/football/play';
import { routePoints } from '@stemline/football/route';
import { atSnap } from '@stemline/football/snap';
import { chosenReaction, defenderMark, reactionLine } from './defence.ts';
import { placeNames } from './names.ts';
import {
  beforeLines,
  extraLine,
  markRadius,
  motionLine,
  playerMark,
  routeLine,
} from './offence.ts';
import type { ExtraPath, Highlight, Tone } from './options.ts';
import type { Role } from './role.ts';
import type { Group, Primitive, View } from './scene.ts';
import { straight, trimStart } from './stroke.ts';

const halo: Record<Tone, Role> = {
  selected: 'haloSelected',
  stop: 'haloStop',
  warn: 'haloWarn',
  note: 'haloNote',
  changed: 'haloChanged',
};

const trace: Record<Tone, Role> = {
  selected: 'traceSelected',
  stop: 'traceStop',
  warn: 'traceWarn',
  note: 'traceNote',
  changed: 'traceChanged',
};

const toneOf = (
  highlights: readonly Highlight[],
  kind: 'player' | 'route' | 'motion',
  player: PlayerId,
): Tone | undefined =>
  highlights.find((mark) => mark.kind === kind && mark.player === player)?.tone;

const ring = (at: Point, radius: number, tone: Tone | undefined): Primitive[] =>
  tone ? [{ kind: 'circle', at, radius, role: halo[tone] }] : [];
const along = (points: readonly Point[], tone: Tone | undefined): Primitive[] =>
  tone ? straight(trimStart(points, markRadius), trace[tone]) : [];

export function beforeLayer(before: Play, now: Play): Group[] {
  return beforeLines(before, now).map(({ player, items }) => ({
    id: `before-${player.id}`,
    subject: { kind: 'before', player: player.id },
    items,
  }));
}

export function ghostLayer(play: Play, dragging: ReadonlyMap<PlayerId, Point>): Group[] {
  return play.players
    .filter(({ id }) => dragging.has(id))
    .map(({ id, at }) => ({
      id: `ghost-${id}`,
      subject: { kind: 'ghost', player: id },
      items: [{ kind: 'circle', at, radius: markRadius, role: 'ghost' }],
    }));
}

export function reactionLayer(
  look: AlignedLook,
  choice: ReactionChoice,
  key: DefenderId | null,
  show: 'all' | 'key' | 'none',
): Group[] {
  if (show === 'none') return [];
  return look.defenders.flatMap((defender): Group[] => {
    const reaction = chosenReaction(defender, choice);
    const isKey = defender.id === key;
    if (!reaction || (show === 'key' && !isKey)) return [];
    const items = reactionLine(defender, reaction.to, isKey);
    const subject = { kind: 'reaction', defender: defender.id } as const;
    return items.length === 0 ? [] : [{ id: `reaction-${defender.id}`, subject, items }];
  });
}

export function motionLayer(play: Play, highlights: readonly Highlight[]): Group[] {
  return play.players.flatMap((player): Group[] => {
    const motion = play.motions[player.id];
    const last = motion?.path.at(-1);
    if (!motion || !last) return [];
    const points = [player.at, ...motion.path.map((offset) => add(player.at, offset))];
    return [
      {
        id: `motion-${player.id}`,
        subject: { kind: 'motion', player: player.id },
        items: [
          ...along(points, toneOf(highlights, 'motion', player.id)),
          ...motionLine(player, motion),
          { kind: 'circle', at: add(player.at, last), radius: markRadius, role: 'playerSet' },
        ],
      },
    ];
  });
}

export function routeLayer(
  play: Play,
  highlights: readonly Highlight[],
  { showBreak, stems }: { showBreak: boolean; stems: readonly PlayerId[] },
): Group[] {
  return atSnap(play).flatMap((player): Group[] => {
    const route = play.routes[player.id];
    if (!route) return [];
    return [
      {
        id: `route-${player.id}`,
        subject: { kind: 'route', player: player.id },
        items: [
          ...along(routePoints(player, route), toneOf(highlights, 'route', player.id)),
          ...routeLine(player, route, { showBreak, isStem: stems.includes(player.id) }),
        ],
      },
    ];
  });
}

const lineRoles: Record<ExtraPath['emphasis'], { line: Role; end: Role; name: Role }> = {
  quiet: { line: 'branch', end: 'branchEnd', name: 'branchName' },
  plain: { line: 'branchPlain', end: 'branchPlainEnd', name: 'branchPlainName' },
  lit: { line: 'branchLit', end: 'branchLitEnd', name: 'branchLabel' },
};

export function pathLayer(paths: readonly ExtraPath[], emphasis: ExtraPath['emphasis']): Group[] {
  const { line, end } = lineRoles[emphasis];
  return paths
    .filter((path) => path.emphasis === emphasis)
    .map((path) => ({
      id: `path-${path.id}`,
      subject: { kind: 'path', path: path.id },
      items: extraLine(path.points, path.end, line, end),
    }));
}

/** Under the middle of a stroke, where the backfield is empty. */
const besideMiddle = (from: Point, to: Point): Point => {
  const flat = Math.abs(to[0] - from[0]) / Math.max(0.1, distance(from, to));
  return [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2 - 0.5 - 0.9 * flat];
};

/** The names of paths, over all lines. */
export function pathNameLayer(
  play: Play,
  look: AlignedLook | null,
  paths: readonly ExtraPath[],
  { size, view }: { size: number; view: View },
): Group[] {
  const named = paths.filter(({ label }) => label !== '');
  if (named.length === 0) return [];
  const men = atSnap(play);
  const routes = men.flatMap((player) => {
    const route = play.routes[player.id];
    return route ? [routePoints(player, route)] : [];
  });
  const places = placeNames(
    named
      .filter(({ labelAt }) => labelAt !== 'middle')
      .map(({ id, label, points }) => ({ id, text: label, size, points })),
    {
      men: [
        ...[...men, ...play.players].map(({ at }) => ({ at, radius: markRadius })),
        ...(look?.defenders ?? []).map(({ at }) => ({ at, radius: markRadius })),
      ],
      lines: [...routes, ...paths.map(({ points }) => points)],
      view,
    },
  );
  return named.flatMap((path): Group[] => {
    const end = path.points.at(-1);
    const at =
      path.labelAt === 'middle'
        ? end && besideMiddle(path.points.at(-2) ?? end, end)
        : places.get(path.id);
    if (!at) return [];
    const role = lineRoles[path.emphasis].name;
    return [
      {
        id: `path-name-${path.id}`,
        subject: { kind: 'path', path: path.id },
        items: [{ kind: 'text', at, text: path.label, size, turn: 0, anchor: 'middle', role }],
      },
    ];
  });
}

export function defenderLayer(
  look: AlignedLook,
  key: DefenderId | null,
  highlights: readonly Highlight[],
): Group[] {
  return look.defenders.map((defender) => {
    const mark = highlights.find((m) => m.kind === 'defender' && m.defender === defender.id);
    return {
      id: `defender-${defender.id}`,
      subject: { kind: 'defender', defender: defender.id },
      items: [
        ...ring(defender.at, 1.35, mark?.tone),
        ...defenderMark(defender, defender.id === key),
      ],
    };
  });
}

export function ballLayer(play: Play): Group {
  const at: Point = [ballX(play.situation), 0.2];
  return {
    id: 'ball',
    subject: { kind: 'field' },
    items: [{ kind: 'ellipse', at, rx: 0.15, ry: 0.28, role: 'ball' }],
  };
}

export function playerLayer(play: Play, highlights: readonly Highlight[]): Group[] {
  return play.players.map((player) => ({
    id: `player-${player.id}`,
    subject: { kind: 'player', player: player.id },
    items: [
      ...ring(player.at, markRadius + 0.32, toneOf(highlights, 'player', player.id)),
      ...playerMark(player, player.at),
    ],
  }));
}
