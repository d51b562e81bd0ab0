import { Button, Group, Modal, Stack, Text } from '@mantine/core';
import type { Member } from '@stemline/protocol/api/staffs';
import { useRemoveMember } from '../api/members.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';

export function RemoveMember(props: {
  staffId: string;
  member: Member | null;
  onClose: () => void;
}) {
  return (
    <Modal
      opened={props.member !== null}
      onClose={props.onClose}
      title={`Remove ${props.member?.name ?? ''}`}
    >
      {props.member !== null && (
        <Confirm
          key={props.member.id}
          staffId={props.staffId}
          member={props.member}
          onClose={props.onClose}
        />
      )}
    </Modal>
  );
}

function Confirm({
  staffId,
  member,
  onClose,
}: {
  staffId: string;
  member: Member;
  onClose: () => void;
}) {
  const remove = useRemoveMember(staffId);
  return (
    <Stack gap="sm">
      <Text size="sm">
        {member.name} loses sight of this staff at once, on boards that are open too. What he drew,
        wrote and signed keeps his name. To come back he needs a new invitation.
      </Text>
      <ProblemNotice error={remove.error} />
      <Group justify="flex-end" gap="xs">
        <Button variant="default" onClick={onClose} data-autofocus>
          Cancel
        </Button>
        <Button
          color="red"
          loading={remove.isPending}
          onClick={() => remove.mutate(member.id, { onSuccess: onClose })}
        >
          Remove from staff
        </Button>
      </Group>
    </Stack>
  );
}
