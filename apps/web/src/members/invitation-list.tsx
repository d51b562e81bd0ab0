import { Button } from '@mantine/core';
import type { Invitation } from '@stemline/protocol/api/staffs';
import { useWithdrawInvitation } from '../api/invitations.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';
import classes from '../common/rows.module.css';
import { Time } from '../common/time.tsx';
import { roleWords } from './role-words.ts';

const stateWords: Record<Invitation['state'], string> = {
  open: 'Open',
  accepted: 'Accepted',
  expired: 'Ran out',
  withdrawn: 'Withdrawn',
};

export function InvitationList({
  staffId,
  invitations,
}: {
  staffId: string;
  invitations: readonly Invitation[];
}) {
  const withdraw = useWithdrawInvitation(staffId);
  return (
    <>
      <ProblemNotice error={withdraw.error} />
      <ul className={classes.rows} aria-label="Invitations">
        {invitations.map((invitation) => (
          <li key={invitation.id} className={classes.row}>
            <div className={classes.main}>
              <span className={classes.name}>{roleWords(invitation.role, invitation.group)}</span>
              <span className={classes.aside}>
                made <Time at={invitation.createdAt} />
              </span>
            </div>
            <span className={classes.fact}>
              {stateWords[invitation.state]}
              {invitation.acceptedBy !== null && ` by ${invitation.acceptedBy}`}
            </span>
            <span className={classes.act}>
              {invitation.state === 'open' && (
                <Button
                  size="xs"
                  variant="default"
                  loading={withdraw.isPending && withdraw.variables === invitation.id}
                  onClick={() => withdraw.mutate(invitation.id)}
                  aria-label={`Withdraw the invitation for ${roleWords(invitation.role, invitation.group)}`}
                >
                  Withdraw
                </Button>
              )}
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}
