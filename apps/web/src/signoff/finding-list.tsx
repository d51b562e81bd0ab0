import { Button, Group, Stack, Textarea } from '@mantine/core';
import { schemaResolver, useForm } from '@mantine/form';
import { waiverSchema } from '@stemline/protocol/api/signoff';
import { severitySchema } from '@stemline/read-rules/finding';
import { useState } from 'react';
import { useUnwaive, useWaive } from '../api/changes.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { SeverityIcon, severityWords } from '../common/severity.tsx';
import type { ChangeFinding } from './gate.ts';
import classes from './signoff.module.css';

/** The findings of a change; the head coach waives one that blocks, with a reason. */
export function FindingList(props: {
  findings: readonly ChangeFinding[];
  of: { boardId: string; staffId: string };
  mayWaive: boolean;
}) {
  return (
    <ul className={classes.findings} aria-label="Findings">
      {props.findings.map((finding) => (
        <FindingLine key={finding.id} finding={finding} of={props.of} mayWaive={props.mayWaive} />
      ))}
    </ul>
  );
}

function FindingLine(props: {
  finding: ChangeFinding;
  of: { boardId: string; staffId: string };
  mayWaive: boolean;
}) {
  const { finding } = props;
  const [waiving, setWaiving] = useState(false);
  const severity = severitySchema.catch('note').parse(finding.severity);
  return (
    <li className={classes.finding} data-waived={finding.waived || undefined}>
      <SeverityIcon severity={severity} />
      <div className={classes.findingBody}>
        <span>{finding.says}</span>
        <span className={classes.findingFoot}>
          <span className={classes.small}>
            {finding.waived ? 'waived' : severityWords[severity]}
          </span>
          {props.mayWaive && severity === 'stop' && !finding.waived && !waiving && (
            <Button size="compact-xs" variant="default" onClick={() => setWaiving(true)}>
              Waive with a reason
            </Button>
          )}
          {props.mayWaive && finding.waived && <TakeBack findingId={finding.id} of={props.of} />}
        </span>
        {waiving && <WaiveForm finding={finding} of={props.of} onDone={() => setWaiving(false)} />}
      </div>
    </li>
  );
}

function TakeBack(props: { findingId: string; of: { boardId: string; staffId: string } }) {
  const unwaive = useUnwaive(props.of);
  return (
    <>
      <Button
        size="compact-xs"
        variant="default"
        loading={unwaive.isPending}
        onClick={() => unwaive.mutate(props.findingId)}
      >
        Take the waiver back
      </Button>
      <ProblemNotice error={unwaive.error} />
    </>
  );
}

function WaiveForm(props: {
  finding: ChangeFinding;
  of: { boardId: string; staffId: string };
  onDone: () => void;
}) {
  const waive = useWaive(props.of);
  const fields = useForm({
    initialValues: { findingId: props.finding.id, reason: '' },
    validate: schemaResolver(waiverSchema, { sync: true }),
  });
  return (
    <form onSubmit={fields.onSubmit((waiver) => waive.mutate(waiver, { onSuccess: props.onDone }))}>
      <Stack gap={6}>
        <Textarea
          label="Why this finding may stand"
          description="Kept with your name in the record."
          autosize
          minRows={2}
          {...fields.getInputProps('reason')}
        />
        <ProblemNotice error={waive.error} />
        <Group gap="xs">
          <Button type="submit" size="xs" loading={waive.isPending}>
            Waive finding
          </Button>
          <Button size="xs" variant="default" onClick={props.onDone}>
            Cancel
          </Button>
        </Group>
      </Stack>
    </form>
  );
}
