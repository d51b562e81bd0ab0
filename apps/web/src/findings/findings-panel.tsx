import { Button, Textarea } from '@mantine/core';
import { waiverSchema } from '@stemline/protocol/api/signoff';
import type { LiveFinding } from '@stemline/protocol/message';
import { may } from '@stemline/protocol/permissions';
import type { Role } from '@stemline/protocol/roles';
import type { Severity } from '@stemline/read-rules/finding';
import { type FormEvent, useState } from 'react';
import { useUnwaive, useWaive } from '../api/changes.ts';
import { useBoardUi } from '../board/board-ui-context.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { SeverityIcon, severityWords } from '../common/severity.tsx';
import { Time } from '../common/time.tsx';
import { useFindings } from '../live/hooks.ts';
import classes from './findings-panel.module.css';
import { kindNames } from './kind-names.ts';
import { MendList } from './mend-list.tsx';
import { useShowFinding } from './use-show-finding.ts';

const weight: Record<Severity, number> = { stop: 0, warn: 1, note: 2 };

/** Standing ones first, then by severity, then the newest. */
function inOrder(findings: readonly LiveFinding[]): LiveFinding[] {
  return findings.toSorted(
    (a, b) =>
      Number(a.waived !== null) - Number(b.waived !== null) ||
      weight[a.finding.severity] - weight[b.finding.severity] ||
      b.openedAt.localeCompare(a.openedAt) ||
      a.finding.id.localeCompare(b.finding.id),
  );
}

interface Of {
  boardId: string;
  staffId: string;
}

function WaiveForm({ of, findingId, onDone }: { of: Of; findingId: string; onDone: () => void }) {
  const [reason, setReason] = useState('');
  const [wrong, setWrong] = useState<string | null>(null);
  const waive = useWaive(of);
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    const read = waiverSchema.safeParse({ findingId, reason });
    setWrong(read.success ? null : (read.error.issues[0]?.message ?? null));
    if (read.success) waive.mutate(read.data, { onSuccess: onDone });
  };
  return (
    <form onSubmit={submit} className={classes.waive}>
      <Textarea
        label="Why it may stand"
        size="xs"
        autosize
        minRows={2}
        maxLength={500}
        value={reason}
        error={wrong}
        onChange={({ currentTarget }) => setReason(currentTarget.value)}
      />
      <ProblemNotice error={waive.error} />
      <div className={classes.actions}>
        <Button size="compact-sm" variant="default" onClick={onDone}>
          Cancel
        </Button>
        <Button size="compact-sm" type="submit" loading={waive.isPending}>
          Waive
        </Button>
      </div>
    </form>
  );
}

function Authors({ authors }: { authors: LiveFinding['authors'] }) {
  if (authors.length === 0) return null;
  return (
    <ul className={classes.authors} aria-label="Who last set what it is about">
      {authors.map(({ what, name, at }) => (
        <li key={what}>
          {what}: <strong>{name}</strong>, <Time at={at} />
        </li>
      ))}
    </ul>
  );
}

function FindingItem({ of, role, live }: { of: Of; role: Role; live: LiveFinding }) {
  const { finding, authors, openedAt, waived } = live;
  const [ui, tell] = useBoardUi();
  const show = useShowFinding();
  const unwaive = useUnwaive(of);
  const [waiving, setWaiving] = useState(false);
  const shown = ui.finding === finding.id;
  const mayWaive = may(role, 'finding.waive');
  return (
    <li
      className={classes.finding}
      data-severity={finding.severity}
      data-shown={shown || undefined}
      data-waived={waived !== null || undefined}
    >
      <div className={classes.kind}>
        <SeverityIcon severity={finding.severity} />
        <span>
          {kindNames[finding.kind]}, {waived ? 'waived' : severityWords[finding.severity]}
        </span>
        <span className={classes.since}>
          since <Time at={openedAt} />
        </span>
      </div>
      <p className={classes.says}>{finding.says}</p>
      {finding.witness && (
        <p className={classes.witness}>
          <strong>{finding.witness.look.name}:</strong> {finding.witness.says}
        </p>
      )}
      {finding.mend !== '' && <p className={classes.mend}>{finding.mend}</p>}
      {!waived && <MendList mends={finding.mends ?? []} />}
      <Authors authors={authors} />
      {waived && (
        <p className={classes.waived}>
          Waived by {waived.by}: {waived.reason}
        </p>
      )}
      <div className={classes.actions}>
        <Button
          size="compact-sm"
          variant={shown ? 'filled' : 'default'}
          aria-pressed={shown}
          onClick={() => (shown ? tell({ do: 'hideFinding' }) : show(finding))}
        >
          {shown
            ? 'Shown on the board'
            : finding.witness
              ? 'Show it on the board'
              : 'Mark it on the board'}
        </Button>
        {mayWaive && !waived && !waiving && (
          <Button size="compact-sm" variant="subtle" onClick={() => setWaiving(true)}>
            Waive
          </Button>
        )}
        {mayWaive && waived && (
          <Button
            size="compact-sm"
            variant="subtle"
            loading={unwaive.isPending}
            onClick={() => unwaive.mutate(finding.id)}
          >
            Take the waiver back
          </Button>
        )}
      </div>
      <ProblemNotice error={unwaive.error} />
      {waiving && <WaiveForm of={of} findingId={finding.id} onDone={() => setWaiving(false)} />}
    </li>
  );
}

/** What the rule check has to say about the play, with whom to talk to. */
export function FindingsPanel({ of, role }: { of: Of; role: Role }) {
  const findings = useFindings();
  if (findings.length === 0) {
    return (
      <p className={classes.none}>
        No findings. The rule check runs at every edit, over every look of the shelf and over every
        look there could be.
      </p>
    );
  }
  return (
    <ul className={classes.findings} aria-label="Findings">
      {inOrder(findings).map((live) => (
        <FindingItem key={live.finding.id} of={of} role={role} live={live} />
      ))}
    </ul>
  );
}
