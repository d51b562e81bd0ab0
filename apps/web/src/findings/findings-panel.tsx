import { Button, Textarea } from '@mantine/core';
import { waiverSchema } from '@stemline/protocol/api/signoff';
import type { LiveFinding } from '@stemline/protocol/message';
import { may } from '@stemline/protocol/permissions';
import type { Role } from '@stemline/protocol/roles';
import type { Severity } from '@stemline/read-rules/finding';
import { type FormEvent, memo, useState } from 'react';
import { useUnwaive, useWaive } from '../api/changes.ts';
import { useBoardUi } from '../board/board-ui-context.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { SeverityIcon, severityWords } from '../common/severity.tsx';
import { Time } from '../common/time.tsx';
import { useCheckFailed, useShownFindings } from '../rule-check/rule-check-context.tsx';
import { findingOf, isWaived, type ShownFinding } from '../rule-check/shown-finding.ts';
import classes from './findings-panel.module.css';
import { kindNames } from './kind-names.ts';
import { MendList } from './mend-list.tsx';
import { useShowFinding } from './use-show-finding.ts';

const weight: Record<Severity, number> = { stop: 0, warn: 1, note: 2 };

/** What opens only now is newer than whatever the room has. */
const openedAt = (shown: ShownFinding): string =>
  shown.state === 'opens' ? '~' : shown.live.openedAt;

/** Standing ones first, then by severity, then the newest; what closes keeps its place until it is gone. */
function inOrder(findings: readonly ShownFinding[]): ShownFinding[] {
  return findings.toSorted((a, b) => {
    const [one, two] = [findingOf(a), findingOf(b)];
    return (
      Number(isWaived(a)) - Number(isWaived(b)) ||
      weight[one.severity] - weight[two.severity] ||
      compare(openedAt(b), openedAt(a)) ||
      compare(one.id, two.id)
    );
  });
}

const compare = (a: string, b: string): number => Number(a > b) - Number(a < b);

const aheadWords: Record<Exclude<ShownFinding['state'], 'stands'>, string> = {
  opens: 'new, not saved yet',
  closes: 'mended, not saved yet',
};

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

interface FindingItemProps extends Of {
  role: Role;
  shown: ShownFinding;
}

const FindingItem = memo(function FindingItem({ boardId, staffId, role, shown }: FindingItemProps) {
  const { state } = shown;
  const finding = findingOf(shown);
  const live = state === 'opens' ? null : shown.live;
  const waived = live?.waived ?? null;
  const [ui, tell] = useBoardUi();
  const show = useShowFinding();
  const of = { boardId, staffId };
  const unwaive = useUnwaive(of);
  const [waiving, setWaiving] = useState(false);
  const isMarked = ui.finding === finding.id;
  // Only what the room has, and still holds, can be waived.
  const mayWaive = state === 'stands' && may(role, 'finding.waive');
  return (
    <li
      className={classes.finding}
      data-severity={finding.severity}
      data-shown={isMarked || undefined}
      data-waived={waived !== null || undefined}
      data-ahead={state === 'stands' ? undefined : state}
    >
      <div className={classes.kind}>
        <SeverityIcon severity={finding.severity} />
        <span>
          {kindNames[finding.kind]}, {waived ? 'waived' : severityWords[finding.severity]}
        </span>
        <span className={classes.since}>
          {shown.state === 'stands' ? (
            <>
              since <Time at={shown.live.openedAt} />
            </>
          ) : (
            aheadWords[shown.state]
          )}
        </span>
      </div>
      <p className={classes.says}>{finding.says}</p>
      {finding.witness && (
        <p className={classes.witness}>
          <strong>{finding.witness.look.name}:</strong> {finding.witness.says}
        </p>
      )}
      {finding.mend !== '' && <p className={classes.mend}>{finding.mend}</p>}
      {state === 'stands' && !waived && <MendList mends={finding.mends ?? []} />}
      {live && <Authors authors={live.authors} />}
      {waived && (
        <p className={classes.waived}>
          Waived by {waived.by}: {waived.reason}
        </p>
      )}
      <div className={classes.actions}>
        <Button
          size="compact-sm"
          variant={isMarked ? 'filled' : 'default'}
          aria-pressed={isMarked}
          onClick={() => (isMarked ? tell({ do: 'hideFinding' }) : show(finding))}
        >
          {isMarked
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
});

/** What the rule check has to say about the play, with whom to talk to. */
export function FindingsPanel({ boardId, staffId, role }: Of & { role: Role }) {
  const findings = useShownFindings();
  const failed = useCheckFailed();
  return (
    <>
      {failed && (
        <p className={classes.none} role="note">
          Findings follow an edit once it is saved: this browser could not run the rule check
          itself.
        </p>
      )}
      {findings.length === 0 ? (
        <p className={classes.none}>
          No findings. The rule check runs at every edit, over every look of the shelf and over
          every look there could be.
        </p>
      ) : (
        <ul className={classes.findings} aria-label="Findings">
          {inOrder(findings).map((shown) => (
            <FindingItem
              key={findingOf(shown).id}
              boardId={boardId}
              staffId={staffId}
              role={role}
              shown={shown}
            />
          ))}
        </ul>
      )}
    </>
  );
}
