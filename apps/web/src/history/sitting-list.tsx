import type { Sitting } from '@stemline/protocol/api/history';
import { Link } from '@tanstack/react-router';
import { NothingHere } from '../common/nothing-here.tsx';
import { Time } from '../common/time.tsx';
import classes from './history.module.css';

const minutesOf = ({ from, to }: Sitting): number =>
  Math.round((Date.parse(to) - Date.parse(from)) / 60_000);

/** Each opens the play as the sitting left it. */
export function SittingList(props: {
  boardId: string;
  sittings: readonly Sitting[];
  shown: string | undefined;
}) {
  if (props.sittings.length === 0) return <NothingHere title="Nothing yet" />;
  return (
    <ul className={classes.sittings}>
      {props.sittings.map((sitting) => {
        const minutes = minutesOf(sitting);
        return (
          <li key={sitting.to}>
            <Link
              to="/boards/$boardId/history"
              params={{ boardId: props.boardId }}
              search={{ time: sitting.to }}
              replace
              className={classes.sitting}
              aria-current={sitting.to === props.shown ? 'true' : undefined}
            >
              <span className={classes.time}>
                <Time at={sitting.to} />
                {minutes > 0 && <span className={classes.small}>{minutes} min</span>}
              </span>
              <span className={classes.small}>
                {sitting.names.length > 0 ? sitting.names.join(', ') : 'Stemline itself'}
              </span>
            </Link>
          </li>
        );
      })}
    </ul>
  );
}
