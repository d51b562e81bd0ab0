import { Button, CopyButton, Group, Modal, Stack, Text, TextInput } from '@mantine/core';
import { useState } from 'react';
import { useInvite } from '../api/invitations.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { longWhen } from '../common/when.ts';
import { absoluteLink } from './invitation-link.ts';
import { type RoleAndGroup, RoleFields } from './role-fields.tsx';
import { roleWords } from './role-words.ts';

interface Props {
  staffId: string;
  opened: boolean;
  onClose: () => void;
}

export function Invite({ staffId, opened, onClose }: Props) {
  return (
    <Modal opened={opened} onClose={onClose} title="Invite by link">
      <InviteForm staffId={staffId} onClose={onClose} />
    </Modal>
  );
}

function InviteForm({ staffId, onClose }: Omit<Props, 'opened'>) {
  const [chosen, setChosen] = useState<RoleAndGroup>({ role: 'assistant', group: 'all' });
  const invite = useInvite(staffId);
  if (invite.isSuccess) {
    const link = absoluteLink(invite.data.link, window.location.origin);
    return (
      <Stack gap="sm">
        <Text size="sm">
          Send this link to one person. It makes them{' '}
          {roleWords(invite.data.role, invite.data.group).toLowerCase()}, works once, and ends on{' '}
          {longWhen(invite.data.expiresAt)}. It is shown only now.
        </Text>
        <TextInput
          label="Invitation link"
          value={link}
          readOnly
          onFocus={(event) => event.currentTarget.select()}
        />
        <Group justify="flex-end" gap="xs">
          <Button variant="default" onClick={onClose}>
            Close
          </Button>
          <CopyButton value={link}>
            {({ copied, copy }) => (
              <Button onClick={copy} data-autofocus>
                {copied ? 'Link copied' : 'Copy link'}
              </Button>
            )}
          </CopyButton>
        </Group>
      </Stack>
    );
  }
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        invite.mutate(chosen);
      }}
    >
      <Stack gap="sm">
        <RoleFields value={chosen} onChange={setChosen} />
        <ProblemNotice error={invite.error} />
        <Group justify="flex-end" gap="xs">
          <Button variant="default" onClick={onClose}>
            Cancel
          </Button>
          <Button type="submit" loading={invite.isPending}>
            Make link
          </Button>
        </Group>
      </Stack>
    </form>
  );
}
