import { add, distance, type Point, scale } from '@stemline/football/geometry';
import type { DefenderId, PlayerId } from '@stemline/football/ids';
import type { AlignedLook } from '@stemline/football/look';
import type { Play, Player } from '@stemline/football/play';
import { atSnap } from '@stemline/football/snap';
import { markRadius } from './offence.ts';
import type { Group, Primitive } from './scene.ts';
import { arrowHead, direction, endBar, straight, trimStart } from './stroke.ts';

/** What a protection makes of a look: who has whom, who has nobody before him, and where the passer throws from. */
export interface Blocks {
  readonly blocks: readonly { readonly player: PlayerId; readonly defender: DefenderId }[];
  readonly free: readonly FreeMan[];
  readonly drop: { readonly player: PlayerId; readonly to: Point } | null;
}

export interface FreeMan {
  readonly defender: DefenderId;
  /** Where he comes to. */
  readonly to: Point;
  /** Stands beside him; may be empty. */
  readonly label: string;
  /** The ball is still in the passer's hand when he is there. */
  readonly inTime: boolean;
}

/** How far short of the middle of a defender's letter a block ends. Yards. */
const shortOf = 0.66;
/** The bar at its end. Yards. */
const halfBar = 0.36;

/** Under the offence: blocks as bars in the way of who comes, free men as heavy arrows, the drop as a dotted line. */
export function blockingLayer(
  play: Play,
  look: AlignedLook | null,
  { blocks, free, drop }: Blocks,
): Group[] {
  const men = atSnap(play);
  const player = (id: PlayerId): Player | undefined => men.find((man) => man.id === id);
  const defender = (id: DefenderId) => look?.defenders.find((man) => man.id === id);
  const passer = drop && player(drop.player);
  return [
    ...(drop && passer ? dropGroup(passer, drop.to) : []),
    ...blocks.flatMap(({ player: id, defender: rusher }): Group[] => {
      const [from, to] = [player(id), defender(rusher)];
      if (!from || !to) return [];
      return [
        {
          id: `block-${id}`,
          subject: { kind: 'block', player: id },
          items: blockLine(from.at, to.at),
        },
      ];
    }),
    ...free.flatMap((man): Group[] => {
      const from = defender(man.defender);
      if (!from) return [];
      return [
        {
          id: `free-${man.defender}`,
          subject: { kind: 'free', defender: man.defender },
          items: freeLine(from.at, man),
        },
      ];
    }),
  ];
}

function blockLine(from: Point, to: Point): Primitive[] {
  const way = direction(from, to);
  if (!way) return [];
  const reach = Math.max(distance(from, to) - shortOf, markRadius + 0.1);
  const points = [from, add(from, scale(way, reach))];
  return [...straight(points, 'block'), ...endBar(points, halfBar, 'block')];
}

function freeLine(from: Point, { to, label, inTime }: FreeMan): Primitive[] {
  const way = direction(to, from);
  const points = trimStart([from, way ? add(to, scale(way, markRadius + 0.2)) : to], 0.85);
  const side = from[0] >= to[0] ? 1 : -1;
  return [
    ...straight(points, inTime ? 'free' : 'freeLate'),
    ...arrowHead(points, 0.8, inTime ? 'freeEnd' : 'freeLateEnd'),
    {
      kind: 'text',
      at: [from[0] + side * 0.9, from[1] + 0.75],
      text: label,
      size: 0.86,
      turn: 0,
      anchor: side > 0 ? 'start' : 'end',
      role: inTime ? 'freeLabel' : 'freeLateLabel',
    },
  ];
}

/** Nothing where he throws from the place on which he takes the snap. */
function dropGroup(passer: Player, to: Point): Group[] {
  if (distance(passer.at, to) < markRadius) return [];
  const points = trimStart([passer.at, to], markRadius);
  return [
    {
      id: `drop-${passer.id}`,
      subject: { kind: 'drop', player: passer.id },
      items: [...straight(points, 'drop'), { kind: 'circle', at: to, radius: 0.3, role: 'drop' }],
    },
  ];
}
