import type { Change } from '@stemline/protocol/api/signoff';
import { may } from '@stemline/protocol/permissions';
import type { Role } from '@stemline/protocol/roles';

export type ChangeFinding = Change['findings'][number];

/** Findings that stand between a change and its sign-off. */
export const blocking = (findings: readonly ChangeFinding[]): readonly ChangeFinding[] =>
  findings.filter((finding) => finding.severity === 'stop' && !finding.waived);

/** What the reader can do with a change as it stands; in the order of its buttons. */
export type ChangeAction = 'signOff' | 'sendBack' | 'withdraw';

export function changeActions(
  reader: { role: Role; memberId: string | undefined },
  change: Pick<Change, 'state' | 'findings' | 'sentByMemberId'>,
): ChangeAction[] {
  if (change.state !== 'sentUp') return [];
  const actions: ChangeAction[] = [];
  if (may(reader.role, 'change.decide')) {
    if (blocking(change.findings).length === 0) actions.push('signOff');
    actions.push('sendBack');
  }
  if (may(reader.role, 'change.sendUp') && reader.memberId === change.sentByMemberId) {
    actions.push('withdraw');
  }
  return actions;
}

/** Why it can't be signed off yet; null when it can. */
export function whyBlocked(findings: readonly ChangeFinding[]): string | null {
  const count = blocking(findings).length;
  if (count === 0) return null;
  return count === 1
    ? 'One finding blocks sign-off. Have it mended and sent up again, or waive it with a reason.'
    : `${count} findings block sign-off. Have them mended and sent up again, or waive each with a reason.`;
}

export const stateWords: Record<Change['state'], string> = {
  sentUp: 'Sent up',
  signedOff: 'Signed off',
  sentBack: 'Sent back',
  withdrawn: 'Withdrawn',
};
