import { structureOf } from '@stemline/football/formation';
import type { Change } from '@stemline/protocol/api/signoff';
import { useState } from 'react';
import { useSentPlay } from '../api/changes.ts';
import { PlayView } from '../board/play-view.tsx';
import { LoadingLines } from '../common/loading.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { Time } from '../common/time.tsx';
import classes from './signoff.module.css';

/** The play that a change puts up, as its sheet will look, once somebody opens it. */
export function SentPlay({ change }: { change: Change }) {
  const [opened, setOpened] = useState(false);
  const sent = useSentPlay(change.id, opened);
  const play = sent.data?.content.play;
  return (
    <details className={classes.sent} onToggle={(event) => setOpened(event.currentTarget.open)}>
      <summary>The play as it was sent</summary>
      {opened && (
        <section aria-label={`${change.boardName} as it was sent`}>
          <p className={classes.small}>
            {play && [play.concept, structureOf(play).name].filter(Boolean).join(', ')}
            {play && '. '}As sent up by {change.sentBy}, <Time at={change.sentAt} />
            {change.state === 'sentUp' && ': this is what is signed off'}
            {change.boardMovedOn && ', not the board as it is now'}.
          </p>
          {sent.isPending && <LoadingLines what="the play as it was sent" lines={4} />}
          {sent.isError && <ProblemNotice error={sent.error} onRetry={() => void sent.refetch()} />}
          {sent.isSuccess && <PlayView content={sent.data.content} />}
        </section>
      )}
    </details>
  );
}
