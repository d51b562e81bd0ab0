import { Button } from '@mantine/core';
import type { auditEventSchema } from '@stemline/protocol/api/staffs';
import { may } from '@stemline/protocol/permissions';
import type { Role } from '@stemline/protocol/roles';
import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import type { z } from 'zod';
import { useAudit } from '../api/staff.ts';
import { LoadingLines } from '../common/loading.tsx';
import { NothingHere } from '../common/nothing-here.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import classes from '../common/rows.module.css';
import { Section } from '../common/section.tsx';
import { Time } from '../common/time.tsx';

type AuditEvent = z.infer<typeof auditEventSchema>;

const atOnce = 30;

/** What was done, with the play it is about as a link wherever the words name it. */
function What({ event }: { event: AuditEvent }) {
  const { boardId, boardName, what } = event;
  if (boardId === null || boardName === null) return what;
  const link = (
    <Link to="/boards/$boardId" params={{ boardId }} className={classes.link}>
      {boardName}
    </Link>
  );
  const [before, after] = what.split(`“${boardName}”`);
  return after === undefined ? (
    <>
      {what}: {link}
    </>
  ) : (
    <>
      {before}
      {link}
      {after}
    </>
  );
}

/** What was done on this staff, by whom and when; only ever added to. */
export function AuditTrail({ staffId, role }: { staffId: string; role: Role }) {
  const allowed = may(role, 'audit.read');
  const audit = useAudit(staffId, allowed);
  const [shown, setShown] = useState(atOnce);
  if (!allowed) return null;
  return (
    <Section title="What was done">
      {audit.isPending && <LoadingLines what="what was done" />}
      {audit.isError && <ProblemNotice error={audit.error} onRetry={() => void audit.refetch()} />}
      {audit.isSuccess && audit.data.length === 0 && <NothingHere title="Nothing yet" />}
      {audit.isSuccess && audit.data.length > 0 && (
        <ul className={classes.rows} aria-label="What was done">
          {audit.data.slice(0, shown).map((event) => (
            <li key={event.id} className={classes.row}>
              <span className={classes.text}>
                <strong>{event.name}</strong> <What event={event} />
              </span>
              <span className={classes.when}>
                <Time at={event.at} />
              </span>
            </li>
          ))}
        </ul>
      )}
      {audit.isSuccess && audit.data.length > shown && (
        <Button mt="sm" variant="default" onClick={() => setShown(shown + atOnce)}>
          Show older
        </Button>
      )}
    </Section>
  );
}
