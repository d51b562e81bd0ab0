import type { ExtraPath } from '@stemline/drawing/options';
import { add, distance, type Point, scale, subtract } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import type { Play, Player } from '@stemline/football/play';
import { breakPoint } from '@stemline/football/route';
import { atSnap } from '@stemline/football/snap';
import { branchLine, branchPoints } from '@stemline/read-rules/branch-path';
import type { Branch, ReadCard, RouteBranch } from '@stemline/read-rules/card';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import type { Standing } from './standing.ts';

/** Every way that every card can end, each by its name: what a player has to learn. */
export const everyBranch = (play: RuledPlay, standing: Standing | null = null): ExtraPath[] =>
  boardBranches(
    play,
    standing,
    play.cards.map(({ player }) => player),
  );

/** Men with a card whose ends are ways to run. */
export const optionMen = (play: RuledPlay): PlayerId[] =>
  play.cards
    .filter(({ branches }) => branches.some(({ kind }) => kind === 'route'))
    .map(({ player }) => player);

/** On the working board: what answers is lit, the ways of whoever is picked stand out, all others are quiet. */
export function boardBranches(
  play: RuledPlay,
  standing: Standing | null,
  picked: readonly PlayerId[],
): ExtraPath[] {
  return play.cards.flatMap((card) => {
    const answer = standing?.answers.get(card.player)?.branch;
    const isPicked = picked.includes(card.player);
    const others = fromTheBreak(play, card, isPicked ? 'plain' : 'quiet', answer ?? null);
    return answer ? [...others, ...litPath(play, card, answer)] : others;
  });
}

const pathId = (card: ReadCard, branch: Branch): string => `${card.player}.${branch.id}`;
const endOf = (branch: Branch): ExtraPath['end'] =>
  branch.kind === 'route' && branch.finish.kind === 'sit' ? 'dot' : 'arrow';

function fromTheBreak(
  play: RuledPlay,
  card: ReadCard,
  emphasis: 'quiet' | 'plain',
  without: Branch | null = null,
): ExtraPath[] {
  const player = atSnap(play).find(({ id }) => id === card.player);
  if (!player) return [];
  return card.branches.flatMap((branch): ExtraPath[] => {
    if (branch.kind !== 'route' || branch.id === without?.id) return [];
    const points = ownPart(play, player, branch);
    return [{ id: pathId(card, branch), points, emphasis, end: endOf(branch), label: branch.name }];
  });
}

/** What a branch adds to the line that is drawn: its finish, and the way to a break further on. */
function ownPart(play: Play, player: Player, branch: RouteBranch): Point[] {
  const { stem, finish } = branchLine(play, player, branch);
  const route = play.routes[player.id];
  const drawn = route ? breakPoint(player, route) : player.at;
  const further = stem.findIndex((point) => point[1] > drawn[1] + 0.01);
  const own = stem.slice(further > 0 ? further - 1 : -1);
  return finish.length > 0 ? [...own, ...finish] : [...own, pastBreak(stem)];
}

/** Where the dot of who sits down stands: clear of the lines that leave from the break itself. Yards. */
const clearOfBreak = 0.8;

function pastBreak(stem: readonly [Point, ...Point[]]): Point {
  const end = stem[stem.length - 1] as Point;
  const before = stem[stem.length - 2];
  const length = before ? distance(before, end) : 0;
  const ahead: Point = before && length > 0 ? scale(subtract(end, before), 1 / length) : [0, 1];
  return add(end, scale(ahead, clearOfBreak));
}

function litPath(play: RuledPlay, card: ReadCard, branch: Branch): ExtraPath[] {
  const points = litLine(play, card, branch);
  if (points.length < 2) return [];
  return [
    {
      id: pathId(card, branch),
      points,
      emphasis: 'lit',
      end: endOf(branch),
      label: branch.name,
      labelAt: branch.kind === 'target' ? 'middle' : 'end',
    },
  ];
}

/** Where a branch leads, as a line: his path, or for a target the throw. */
function litLine(play: RuledPlay, card: ReadCard, branch: Branch): Point[] {
  if (branch.kind === 'block') return [];
  if (branch.kind === 'route') return branchPoints(play, card, branch);
  const men = atSnap(play);
  const from = men.find(({ id }) => id === card.player);
  const to = men.find(({ id }) => id === branch.player);
  if (!from || !to) return [];
  // The throw ends short of the man, so that its head stays in sight.
  const short = Math.max(0, 1 - 1.1 / Math.max(1.1, distance(from.at, to.at)));
  return [from.at, add(from.at, scale(subtract(to.at, from.at), short))];
}
