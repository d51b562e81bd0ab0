import { DraftText } from '../common/draft-text.tsx';
import { useBoard, usePlay } from '../live/hooks.ts';
import { ConnectionBadge } from './connection-badge.tsx';
import classes from './play-head.module.css';
import { PresenceList } from './presence-list.tsx';
import { useRights } from './rights.ts';
import { wrongOf } from './wrong.ts';

/** Name and concept of the play, who is here, and whether it is saved. */
export function PlayHead() {
  const board = useBoard();
  const play = usePlay();
  const rights = useRights();
  return (
    <header className={classes.head}>
      {rights.all ? (
        <>
          <h1 className={classes.hidden}>{play.name}</h1>
          <DraftText
            aria-label="Name of the play"
            className={classes.name ?? ''}
            variant="unstyled"
            maxLength={80}
            value={play.name}
            keep={(name) => wrongOf(board.setName(name))}
          />
          <DraftText
            aria-label="Concept"
            placeholder="Concept"
            className={classes.concept ?? ''}
            variant="unstyled"
            maxLength={60}
            value={play.concept}
            keep={(concept) => wrongOf(board.setConcept(concept))}
          />
        </>
      ) : (
        <>
          <h1 className={classes.title}>{play.name}</h1>
          <span className={classes.about}>{play.concept}</span>
        </>
      )}
      <div className={classes.state}>
        <PresenceList />
        <ConnectionBadge />
      </div>
    </header>
  );
}
