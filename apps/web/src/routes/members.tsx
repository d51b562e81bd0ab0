import { Button } from '@mantine/core';
import type { Member } from '@stemline/protocol/api/staffs';
import { may } from '@stemline/protocol/permissions';
import { IconUserPlus } from '@tabler/icons-react';
import { useState } from 'react';
import { useInvitations } from '../api/invitations.ts';
import { useMembers } from '../api/members.ts';
import { LoadingLines } from '../common/loading.tsx';
import { Page } from '../common/page.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { Section } from '../common/section.tsx';
import { useStaff } from '../frame/use-staff.ts';
import { AuditTrail } from '../members/audit-trail.tsx';
import { ChangeMember } from '../members/change-member.tsx';
import { ExportStaff } from '../members/export-staff.tsx';
import { InvitationList } from '../members/invitation-list.tsx';
import { Invite } from '../members/invite.tsx';
import { MemberList } from '../members/member-list.tsx';
import { RemoveMember } from '../members/remove-member.tsx';
import { rolesToInvite } from '../members/role-words.ts';

/** Who is on the staff, who is invited, and what was done. */
export function Members() {
  const { staffId, membership } = useStaff();
  const invites = may(membership.role, 'member.invite');
  const members = useMembers(staffId);
  const invitations = useInvitations(staffId, invites);
  const [inviting, setInviting] = useState(false);
  const [changing, setChanging] = useState<Member | null>(null);
  const [removing, setRemoving] = useState<Member | null>(null);
  return (
    <Page
      title={membership.staffName}
      width="reading"
      actions={
        invites && (
          <Button
            leftSection={<IconUserPlus size={17} aria-hidden />}
            onClick={() => setInviting(true)}
          >
            Invite
          </Button>
        )
      }
    >
      <Section title="Members">
        {members.isPending && <LoadingLines what="the members" />}
        {members.isError && (
          <ProblemNotice error={members.error} onRetry={() => void members.refetch()} />
        )}
        {members.isSuccess && (
          <MemberList
            members={members.data}
            ownId={membership.memberId}
            mayChange={may(membership.role, 'member.change')}
            onChange={setChanging}
            onRemove={setRemoving}
          />
        )}
      </Section>
      {invites && (invitations.isError || (invitations.data ?? []).length > 0) && (
        <Section title="Invitations">
          {invitations.isError && (
            <ProblemNotice error={invitations.error} onRetry={() => void invitations.refetch()} />
          )}
          {invitations.isSuccess && (
            <InvitationList staffId={staffId} invitations={invitations.data} />
          )}
        </Section>
      )}
      <ExportStaff staffId={staffId} role={membership.role} />
      <AuditTrail staffId={staffId} role={membership.role} />
      <Invite
        roles={rolesToInvite(membership.role)}
        staffId={staffId}
        opened={inviting}
        onClose={() => setInviting(false)}
      />
      <ChangeMember staffId={staffId} member={changing} onClose={() => setChanging(null)} />
      <RemoveMember staffId={staffId} member={removing} onClose={() => setRemoving(null)} />
    </Page>
  );
}
