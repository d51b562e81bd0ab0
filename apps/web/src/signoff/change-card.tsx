import type { Change } from '@stemline/protocol/api/signoff';
import { may } from '@stemline/protocol/permissions';
import type { Role } from '@stemline/protocol/roles';
import { IconAlertTriangle } from '@tabler/icons-react';
import type { ReactNode } from 'react';
import { Time } from '../common/time.tsx';
import { Decision } from './decision.tsx';
import { FindingList } from './finding-list.tsx';
import { stateWords } from './gate.ts';
import { SentPlay } from './sent-play.tsx';
import classes from './signoff.module.css';

/** One install change: what was sent, what it changes, what the rule check says, what was decided. */
export function ChangeCard(props: {
  change: Change;
  staffId: string;
  role: Role;
  heading: ReactNode;
  /** What else to know before deciding. */
  besides?: ReactNode;
}) {
  const { change } = props;
  const of = { boardId: change.boardId, staffId: props.staffId };
  const waiting = change.state === 'sentUp';
  return (
    <article
      className={classes.change}
      data-state={change.state}
      aria-label={`${stateWords[change.state]}: ${change.boardName}`}
    >
      <header className={classes.changeHead}>
        {props.heading}
        <span className={classes.state} data-state={change.state}>
          {stateWords[change.state]}
          {change.version !== null && `, version ${change.version}`}
        </span>
      </header>
      <p className={classes.small}>
        Sent up by {change.sentBy}, <Time at={change.sentAt} />
      </p>
      {change.message !== '' && <blockquote className={classes.quote}>{change.message}</blockquote>}
      {waiting && change.boardMovedOn && (
        <p className={classes.movedOn}>
          <IconAlertTriangle size={15} aria-hidden />
          The board has been edited since. What is signed off is what was sent, not the later edits.
        </p>
      )}
      <div>
        <h3 className={classes.part}>What changes</h3>
        {change.words.length === 0 ? (
          <p className={classes.small}>Nothing that can be put in words.</p>
        ) : (
          <ul className={classes.words}>
            {change.words.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        )}
      </div>
      <div>
        <h3 className={classes.part}>Rule check</h3>
        {change.findings.length === 0 ? (
          <p className={classes.small}>No findings.</p>
        ) : (
          <FindingList
            findings={change.findings}
            of={of}
            mayWaive={waiting && may(props.role, 'finding.waive')}
          />
        )}
      </div>
      {props.besides}
      <SentPlay change={change} />
      {change.decidedBy !== null && change.decidedAt !== null && (
        <p className={classes.small}>
          {stateWords[change.state]} by {change.decidedBy}, <Time at={change.decidedAt} />
        </p>
      )}
      {change.reply !== '' && <blockquote className={classes.quote}>{change.reply}</blockquote>}
      <Decision change={change} of={of} role={props.role} />
    </article>
  );
}
