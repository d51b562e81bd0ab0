import { Button, CopyButton, Group, Modal, Stack, Text, TextInput } from '@mantine/core';
import type { Role } from '@stemline/protocol/roles';
import { useState } from 'react';
import { useInvite } from '../api/invitations.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { longWhen } from '../common/when.ts';
import { absoluteLink } from './invitation-link.ts';
import { type RoleAndGroup, RoleFields } from './role-fields.tsx';
import { roleWords } from './role-words.ts';

interface Props {
  staffId: string;
  /** Roles that the reader may give. */
  roles: readonly Role[];
  opened: boolean;
  onClose: () => void;
}

export function Invite({ opened, ...rest }: Props) {
  return (
    <Modal opened={opened} onClose={rest.onClose} title="Invite by link">
      <InviteForm {...rest} />
    </Modal>
  );
}

function InviteForm({ staffId, roles, onClose }: Omit<Props, 'opened'>) {
  const [chosen, setChosen] = useState<RoleAndGroup>({ role: 'assistant', group: 'all' });
  const invite = useInvite(staffId);
  if (invite.isSuccess) {
    const link = absoluteLink(invite.data.link, window.location.origin);
    return (
      <Stack gap="sm">
        <Text size="sm">
          Whoever opens this link joins as{' '}
          {roleWords(invite.data.role, invite.data.group).toLowerCase()}. It works once, until{' '}
          {longWhen(invite.data.expiresAt)}, and is shown only now.
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
        <RoleFields roles={roles} value={chosen} onChange={setChosen} />
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
