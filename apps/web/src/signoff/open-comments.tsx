import type { Change } from '@stemline/protocol/api/signoff';
import { TextLink } from '../common/links.tsx';
import classes from './signoff.module.css';

/** What the staff has not settled about the play, and the way to it. */
export function OpenComments({ change }: { change: Change }) {
  const { openComments: open, boardId } = change;
  if (open === 0) return <p className={classes.small}>No comment on the play is open.</p>;
  return (
    <p className={classes.small}>
      <TextLink inherit to="/boards/$boardId" params={{ boardId }} search={{ section: 'comments' }}>
        {open === 1 ? '1 comment thread' : `${open} comment threads`}
      </TextLink>{' '}
      on the play {open === 1 ? 'is' : 'are'} still open.
    </p>
  );
}
