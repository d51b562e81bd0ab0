import { Button, Group, Modal, PasswordInput, Stack, Text } from '@mantine/core';
import { schemaResolver, useForm } from '@mantine/form';
import { notifications } from '@mantine/notifications';
import {
  type PasswordChange,
  passwordChangeSchema,
  passwordLength,
} from '@stemline/protocol/api/account';
import { useMutation } from '@tanstack/react-query';
import { changePassword } from '../api/session.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';

/** A new password; whoever else is signed in to this account is signed out. */
export function ChangePassword({ opened, onClose }: { opened: boolean; onClose: () => void }) {
  return (
    <Modal opened={opened} onClose={onClose} title="Change password">
      <Fields onClose={onClose} />
    </Modal>
  );
}

function Fields({ onClose }: { onClose: () => void }) {
  const fields = useForm({
    initialValues: { current: '', next: '' },
    validate: schemaResolver(passwordChangeSchema, { sync: true }),
  });
  const change = useMutation({
    mutationFn: ({ current, next }: PasswordChange) => changePassword(current, next),
    onSuccess: () => {
      onClose();
      // A board's connection still has the session that has just been replaced.
      if (window.location.pathname.startsWith('/boards/')) {
        window.location.reload();
        return;
      }
      notifications.show({
        title: 'Password changed',
        message: 'Every other session of this account has ended.',
      });
    },
  });
  return (
    <form onSubmit={fields.onSubmit((typed) => change.mutate(typed))} noValidate>
      <Stack gap="sm">
        <PasswordInput
          label="Current password"
          autoComplete="current-password"
          required
          data-autofocus
          {...fields.getInputProps('current')}
        />
        <PasswordInput
          label="New password"
          description={`${passwordLength.min} characters or more.`}
          autoComplete="new-password"
          required
          {...fields.getInputProps('next')}
        />
        <Text size="sm" c="dimmed">
          You stay signed in here and are signed out everywhere else.
        </Text>
        <ProblemNotice error={change.error} />
        <Group justify="flex-end" gap="xs">
          <Button variant="default" onClick={onClose}>
            Cancel
          </Button>
          <Button type="submit" loading={change.isPending}>
            Change password
          </Button>
        </Group>
      </Stack>
    </form>
  );
}
