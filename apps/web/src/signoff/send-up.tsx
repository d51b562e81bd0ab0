import { Button, Stack, Textarea } from '@mantine/core';
import { schemaResolver, useForm } from '@mantine/form';
import { sendUpSchema } from '@stemline/protocol/api/signoff';
import { useSendUp } from '../api/changes.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { FindingList } from './finding-list.tsx';
import { blocking, type ChangeFinding } from './gate.ts';
import classes from './signoff.module.css';

/** Puts the board as it stands now before the head coach, with a word to him. */
export function SendUp(props: {
  of: { boardId: string; staffId: string };
  /** Findings that stand on the board now; they go up with it. */
  findings: readonly ChangeFinding[];
  /** Why it can't be sent now, such as unsaved work; null when it can. */
  holdUp: string | null;
}) {
  const send = useSendUp(props.of);
  const fields = useForm({
    initialValues: { message: '' },
    validate: schemaResolver(sendUpSchema, { sync: true }),
  });
  const stops = blocking(props.findings).length;
  return (
    <form
      onSubmit={fields.onSubmit(({ message }) =>
        send.mutate(message, { onSuccess: () => fields.reset() }),
      )}
    >
      <Stack gap="xs" align="stretch">
        <Textarea
          label="Message to the head coach"
          autosize
          minRows={2}
          {...fields.getInputProps('message')}
        />
        {props.findings.length > 0 && (
          <div>
            <h3 className={classes.part}>Findings that go up with it</h3>
            <FindingList findings={props.findings} of={props.of} mayWaive={false} />
          </div>
        )}
        {stops > 0 && (
          <p className={classes.blocked}>
            {stops === 1 ? 'One of them blocks' : `${stops} of them block`} sign-off. You can send
            it up all the same; the head coach will have to waive or send it back.
          </p>
        )}
        {props.holdUp !== null && <p className={classes.blocked}>{props.holdUp}</p>}
        <ProblemNotice error={send.error} />
        <Button type="submit" loading={send.isPending} disabled={props.holdUp !== null}>
          Send up for sign-off
        </Button>
      </Stack>
    </form>
  );
}
