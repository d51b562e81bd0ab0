import { markRadius } from '@stemline/drawing/offence';
import { toUnits, yards } from '@stemline/drawing/shape';
import type { PlayerId } from '@stemline/football/ids';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { describePlayer } from '../describe-player.ts';
import classes from './layers.module.css';

export const playerElementId = (player: PlayerId): string => `board-player-${player}`;

/** What keyboard and screen reader take hold of: one button a player, left to right across the field. */
export function PlayersLayer({
  play,
  selected,
  px,
  onFocus,
}: {
  play: RuledPlay;
  selected: readonly PlayerId[];
  px: number;
  onFocus: (player: PlayerId) => void;
}) {
  const across = [...play.players].sort((a, b) => a.at[0] - b.at[0]);
  return across.map((player) => {
    const [x, y] = toUnits(player.at);
    return (
      // biome-ignore lint/a11y/useSemanticElements: a button cannot stand inside an SVG drawing
      <g
        key={player.id}
        id={playerElementId(player.id)}
        className={classes.player}
        role="button"
        tabIndex={0}
        aria-pressed={selected.includes(player.id)}
        aria-label={describePlayer(play, player)}
        onFocus={() => onFocus(player.id)}
      >
        <circle cx={x} cy={y} r={yards(markRadius) + 5 * px} strokeWidth={2.5 * px} />
      </g>
    );
  });
}
