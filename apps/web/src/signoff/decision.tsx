import { Button, Group, Stack, Textarea } from '@mantine/core';
import { useForm } from '@mantine/form';
import { type Change, decisionSchema } from '@stemline/protocol/api/signoff';
import { may } from '@stemline/protocol/permissions';
import type { Role } from '@stemline/protocol/roles';
import { useDecide, useWithdrawChange } from '../api/changes.ts';
import { membershipOf, useMe } from '../api/me.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { changeActions, whyBlocked } from './gate.ts';
import classes from './signoff.module.css';

/** The head coach's answer to a change, and the sender's way to take it back. */
export function Decision(props: {
  change: Change;
  of: { boardId: string; staffId: string };
  role: Role;
}) {
  const { change, role } = props;
  const { memberId } = membershipOf(useMe().data, props.of.staffId) ?? {};
  const actions = changeActions({ role, memberId }, change);
  const decide = useDecide(props.of);
  const withdraw = useWithdrawChange(props.of);
  const fields = useForm({ initialValues: { reply: '' } });
  if (actions.length === 0) return null;
  const decides = actions.includes('sendBack');
  const answer = (decision: 'signOff' | 'sendBack') => {
    const read = decisionSchema.safeParse({ decision, reply: fields.values.reply });
    if (read.success) decide.mutate({ changeId: change.id, decision: read.data });
    else fields.setFieldError('reply', read.error.issues[0]?.message ?? 'Say what has to change.');
  };
  const blocked = may(role, 'change.decide') ? whyBlocked(change.findings) : null;
  return (
    <Stack gap="xs">
      {decides && (
        <Textarea
          label="Reply"
          description="Needed to send back; kept in the record."
          autosize
          minRows={2}
          {...fields.getInputProps('reply')}
        />
      )}
      {blocked !== null && <p className={classes.blocked}>{blocked}</p>}
      <ProblemNotice error={decide.error ?? withdraw.error} />
      <Group gap="xs">
        {decides && (
          <>
            <Button
              disabled={!actions.includes('signOff')}
              loading={decide.isPending && decide.variables.decision.decision === 'signOff'}
              onClick={() => answer('signOff')}
            >
              Sign off
            </Button>
            <Button
              variant="default"
              loading={decide.isPending && decide.variables.decision.decision === 'sendBack'}
              onClick={() => answer('sendBack')}
            >
              Send back
            </Button>
          </>
        )}
        {actions.includes('withdraw') && (
          <Button
            variant="subtle"
            color="gray"
            loading={withdraw.isPending}
            onClick={() => withdraw.mutate(change.id)}
          >
            Withdraw
          </Button>
        )}
      </Group>
    </Stack>
  );
}
