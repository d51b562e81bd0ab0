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

interface Props {
  staffId: string;
  invitations: readonly Invitation[];
}

/** Invitations that can still be accepted; those that are over are kept out of the way. */
export function InvitationList({ staffId, invitations }: Props) {
  const open = invitations.filter(({ state }) => state === 'open');
  const over = invitations.filter(({ state }) => state !== 'open');
  return (
    <>
      {open.length > 0 && <Lines staffId={staffId} invitations={open} label="Open invitations" />}
      {over.length > 0 && (
        <details className={classes.over}>
          <summary>Earlier invitations ({over.length})</summary>
          <Lines staffId={staffId} invitations={over} label="Earlier invitations" />
        </details>
      )}
    </>
  );
}

function Lines({ staffId, invitations, label }: Props & { label: string }) {
  const withdraw = useWithdrawInvitation(staffId);
  return (
    <>
      <ProblemNotice error={withdraw.error} />
      <ul className={classes.rows} aria-label={label}>
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
