import { may } from '@stemline/protocol/permissions';
import type { Role } from '@stemline/protocol/roles';
import { severitySchema } from '@stemline/read-rules/finding';
import { useState } from 'react';
import { useFindingHistory } from '../api/findings.ts';
import { LoadingLines } from '../common/loading.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { SeverityIcon } from '../common/severity.tsx';
import { Time } from '../common/time.tsx';
import classes from './signoff.module.css';

/** What the rule check has said about a play, and who had written what it was about. Read when it is opened. */
export function FindingHistory({ boardId, role }: { boardId: string; role: Role }) {
  const [opened, setOpened] = useState(false);
  const history = useFindingHistory(boardId, opened);
  if (!may(role, 'finding.read')) return null;
  return (
    <details className={classes.earlier} onToggle={(event) => setOpened(event.currentTarget.open)}>
      <summary>What the rule check has said</summary>
      {opened && history.isPending && <LoadingLines what="the findings" lines={3} />}
      {history.isError && (
        <ProblemNotice error={history.error} onRetry={() => void history.refetch()} />
      )}
      {history.isSuccess && history.data.length === 0 && (
        <p className={classes.small}>Nothing so far.</p>
      )}
      <ul className={classes.findings} aria-label="Findings of this play so far">
        {history.data?.map((record) => (
          <li key={record.id} className={classes.finding}>
            <SeverityIcon severity={severitySchema.catch('note').parse(record.severity)} />
            <div className={classes.findingBody}>
              <span>{record.says}</span>
              <span className={classes.small}>
                {record.closedAt === null ? (
                  <>
                    stands since <Time at={record.openedAt} />
                  </>
                ) : (
                  <>
                    from <Time at={record.openedAt} /> to <Time at={record.closedAt} />
                  </>
                )}
                {record.authors.length > 0 &&
                  `. ${record.authors.map(({ what, name }) => `${what}: ${name}`).join(', ')}`}
              </span>
            </div>
          </li>
        ))}
      </ul>
    </details>
  );
}
