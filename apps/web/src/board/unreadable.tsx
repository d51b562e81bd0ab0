import type { Projection } from '@stemline/board/project';
import classes from './board-room.module.css';

/** Elements that cannot be shown; the rest of the board is alive. */
export function Unreadable({ unreadable }: Pick<Projection, 'unreadable'>) {
  if (unreadable.length === 0) return null;
  return (
    <details className={classes.unreadable}>
      <summary>
        {unreadable.length === 1
          ? 'One element of this board cannot be read'
          : `${unreadable.length} elements of this board cannot be read`}
      </summary>
      <ul>
        {unreadable.map(({ key, why }) => (
          <li key={key}>
            {key}: {why}
          </li>
        ))}
      </ul>
    </details>
  );
}
