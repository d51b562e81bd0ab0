import { ballX } from '@stemline/football/field';
import type { Play, Player, Position, Route } from '@stemline/football/play';
import { routeInWords } from '@stemline/football/route-words';
import { atSnap } from '@stemline/football/snap';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';

export const positionNames: Record<Position, string> = {
  C: 'center',
  G: 'guard',
  T: 'tackle',
  TE: 'tight end',
  WR: 'receiver',
  RB: 'back',
  QB: 'quarterback',
};

/** A length as it is spoken: no decimals where there are none. */
const spokenYards = (yards: number): string => {
  const tenths = Math.round(Math.abs(yards) * 10) / 10;
  return `${tenths} ${tenths === 1 ? 'yard' : 'yards'}`;
};

function whereHeStands(play: Play, { at }: Player): string {
  const across = at[0] - ballX(play.situation);
  const side =
    Math.abs(across) < 0.05
      ? 'behind the ball'
      : `${spokenYards(across)} ${across > 0 ? 'right' : 'left'} of the ball`;
  const deep = at[1] >= -0.75 ? 'on the line' : `${spokenYards(at[1])} deep`;
  return `${side}, ${deep}`;
}

function whatHeRuns(play: RuledPlay, player: Player, route: Route): string {
  const name = route.name === '' ? '' : `${route.name}, `;
  // His stem is all that is drawn of a choice: what he does at its end his card says.
  const chooses = route.finish.length === 0 && play.cards.some((card) => card.player === player.id);
  const does = routeInWords(player, route, ballX(play.situation), spokenYards);
  return `Route: ${name}${does}${chooses ? ', then as his read card says' : ''}.`;
}

/** Role, number, place and route in words, for those who do not see the drawing. */
export function describePlayer(play: RuledPlay, player: Player): string {
  const snapped = atSnap(play).find(({ id }) => id === player.id) ?? player;
  const route = play.routes[player.id];
  const motion = play.motions[player.id];
  return [
    `${player.label}, ${positionNames[player.position]}, number ${player.number}, ${whereHeStands(play, player)}.`,
    motion
      ? `${motion.atSnap === 'moving' ? 'Motion' : 'Shift'} to ${whereHeStands(play, snapped)}.`
      : '',
    route ? whatHeRuns(play, snapped, route) : 'No route.',
  ]
    .filter((part) => part !== '')
    .join(' ');
}
