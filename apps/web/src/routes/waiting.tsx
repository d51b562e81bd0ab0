import { Stack } from '@mantine/core';
import { may } from '@stemline/protocol/permissions';
import { Link } from '@tanstack/react-router';
import { useWaiting } from '../api/changes.ts';
import { LoadingLines } from '../common/loading.tsx';
import { NothingHere } from '../common/nothing-here.tsx';
import { Page } from '../common/page.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { useStaff } from '../frame/use-staff.ts';
import { ChangeCard } from '../signoff/change-card.tsx';
import { OpenComments } from '../signoff/open-comments.tsx';
import classes from './waiting.module.css';

/** Every change that waits for the head coach, oldest first: who has waited longest is answered first. */
export function Waiting() {
  const { staffId, membership } = useStaff();
  const decides = may(membership.role, 'change.decide');
  const reads = may(membership.role, 'change.read');
  const waiting = useWaiting(staffId, { enabled: reads, watched: true });
  const changes = (waiting.data ?? []).toSorted((a, b) => a.sentAt.localeCompare(b.sentAt));
  return (
    <Page
      title={decides ? 'Waiting for you' : 'Waiting for sign-off'}
      width="reading"
      about={decides ? 'Signing off puts a numbered version in front of the players.' : undefined}
    >
      {!reads && <NothingHere title="Only coaches see what waits for sign-off" />}
      {reads && waiting.isPending && <LoadingLines what="what waits" lines={4} />}
      {waiting.isError && (
        <ProblemNotice error={waiting.error} onRetry={() => void waiting.refetch()} />
      )}
      {waiting.isSuccess && changes.length === 0 && (
        <NothingHere title="Nothing waits">
          A play sent up for sign-off appears here within seconds.
        </NothingHere>
      )}
      <Stack gap="md">
        {changes.map((change) => (
          <ChangeCard
            key={change.id}
            change={change}
            staffId={staffId}
            role={membership.role}
            besides={<OpenComments change={change} />}
            heading={
              <h2 className={classes.play}>
                <Link to="/boards/$boardId" params={{ boardId: change.boardId }}>
                  {change.boardName}
                </Link>
              </h2>
            }
          />
        ))}
      </Stack>
    </Page>
  );
}
