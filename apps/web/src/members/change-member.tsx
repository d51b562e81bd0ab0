import { Button, Group, Modal, Stack } from '@mantine/core';
import type { Member } from '@stemline/protocol/api/staffs';
import { roleSchema } from '@stemline/protocol/roles';
import { useState } from 'react';
import { useChangeMember } from '../api/members.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { type RoleAndGroup, RoleFields } from './role-fields.tsx';

export function ChangeMember(props: {
  staffId: string;
  member: Member | null;
  onClose: () => void;
}) {
  return (
    <Modal
      opened={props.member !== null}
      onClose={props.onClose}
      title={`Role of ${props.member?.name ?? ''}`}
    >
      {props.member !== null && (
        <ChangeForm
          key={props.member.id}
          staffId={props.staffId}
          member={props.member}
          onClose={props.onClose}
        />
      )}
    </Modal>
  );
}

function ChangeForm({
  staffId,
  member,
  onClose,
}: {
  staffId: string;
  member: Member;
  onClose: () => void;
}) {
  const [chosen, setChosen] = useState<RoleAndGroup>({ role: member.role, group: member.group });
  const change = useChangeMember(staffId);
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        change.mutate({ memberId: member.id, change: chosen }, { onSuccess: onClose });
      }}
    >
      <Stack gap="sm">
        <RoleFields roles={roleSchema.options} value={chosen} onChange={setChosen} />
        <ProblemNotice error={change.error} />
        <Group justify="flex-end" gap="xs">
          <Button variant="default" onClick={onClose}>
            Cancel
          </Button>
          <Button type="submit" loading={change.isPending}>
            Save role
          </Button>
        </Group>
      </Stack>
    </form>
  );
}
