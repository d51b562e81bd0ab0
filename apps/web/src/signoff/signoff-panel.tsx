import { Stack } from '@mantine/core';
import { may } from '@stemline/protocol/permissions';
import { type Role, roleNames } from '@stemline/protocol/roles';
import { useChanges } from '../api/changes.ts';
import { LoadingLines } from '../common/loading.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { ChangeCard } from './change-card.tsx';
import { FindingHistory } from './finding-history.tsx';
import type { ChangeFinding } from './gate.ts';
import { SendUp } from './send-up.tsx';
import classes from './signoff.module.css';
import { VersionList } from './version-list.tsx';

export interface SignOffPanelProps {
  boardId: string;
  staffId: string;
  role: Role;
  /** Findings that stand on the board now. */
  findings: readonly ChangeFinding[];
  /** Why the board can't be sent up now, such as unsaved work; null when it can. */
  holdUp: string | null;
}

/** How far this play has come: what waits, what was decided, which versions are signed. */
export function SignOffPanel({ boardId, staffId, role, findings, holdUp }: SignOffPanelProps) {
  const changes = useChanges(boardId);
  const byDate = (changes.data ?? []).toSorted((a, b) => b.sentAt.localeCompare(a.sentAt));
  const current = byDate.find((change) => change.state === 'sentUp');
  const last = current === undefined ? byDate[0] : undefined;
  const earlier = byDate.filter((change) => change !== current && change !== last);
  return (
    <Stack gap="md">
      {changes.isPending && <LoadingLines what="the changes" lines={3} />}
      {changes.isError && (
        <ProblemNotice error={changes.error} onRetry={() => void changes.refetch()} />
      )}
      {current !== undefined && (
        <ChangeCard
          change={current}
          staffId={staffId}
          role={role}
          heading={<h2 className={classes.heading}>Waiting for the head coach</h2>}
        />
      )}
      {last !== undefined && (
        <ChangeCard
          change={last}
          staffId={staffId}
          role={role}
          heading={<h2 className={classes.heading}>Last change</h2>}
        />
      )}
      {changes.isSuccess && current === undefined && (
        <section>
          <h2 className={classes.heading}>Send up</h2>
          {may(role, 'change.sendUp') ? (
            <SendUp of={{ boardId, staffId }} findings={findings} holdUp={holdUp} />
          ) : (
            <p className={classes.small}>
              As {roleNames[role].toLowerCase()} you don't send plays up. A position coach, a
              coordinator or the head coach does.
            </p>
          )}
        </section>
      )}
      <section>
        <h2 className={classes.heading}>Versions</h2>
        <VersionList boardId={boardId} />
      </section>
      {earlier.length > 0 && (
        <details className={classes.earlier}>
          <summary>Earlier changes ({earlier.length})</summary>
          {earlier.map((change) => (
            <ChangeCard
              key={change.id}
              change={change}
              staffId={staffId}
              role={role}
              heading={null}
            />
          ))}
        </details>
      )}
      <FindingHistory boardId={boardId} role={role} />
    </Stack>
  );
}
