import { parseElementKey } from '@stemline/board/element-key';
import type { Play } from '@stemline/football/play';
import type { CSSProperties } from 'react';
import { initials } from '../common/initials.ts';
import { usePlay, usePresence } from '../live/hooks.ts';
import classes from './presence-list.module.css';
import { usePresenceColors } from './use-presence-colors.ts';

function where(play: Play, selected: string | null): string {
  const name = selected === null ? null : parseElementKey(selected);
  if (!name || !('player' in name)) return 'on this board';
  const label = play.players.find(({ id }) => id === name.player)?.label;
  return label === undefined ? 'on this board' : `at ${label}`;
}

/** Who else is on the board now, each once however many windows he has open. */
export function PresenceList() {
  const play = usePlay();
  const colleagues = usePresence();
  const colors = usePresenceColors();
  const people = new Map(colleagues.map((each) => [each.member.id, each]));
  if (people.size === 0) return null;
  return (
    <ul className={classes.people} aria-label="Also on this board">
      {[...people.values()].map(({ member, selected }) => (
        <li
          key={member.id}
          className={classes.person}
          style={{ '--who': colors.get(member.id) } as CSSProperties}
          title={`${member.name}, ${where(play, selected)}`}
        >
          <span aria-hidden>{initials(member.name)}</span>
          <span className={classes.name}>{`${member.name}, ${where(play, selected)}`}</span>
        </li>
      ))}
    </ul>
  );
}
