import {
  ActionIcon,
  Avatar,
  type MantineColorScheme,
  Menu,
  useMantineColorScheme,
} from '@mantine/core';
import { notifications } from '@mantine/notifications';
import type { Me } from '@stemline/protocol/api/staffs';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import { useState } from 'react';
import { asProblem } from '../api/api-problem.ts';
import { signOut, signOutEverywhere } from '../api/session.ts';
import { DialogItem } from '../common/dialog-item.tsx';
import { initials } from '../common/initials.ts';
import { ChangePassword } from './change-password.tsx';

const schemes: readonly { value: MantineColorScheme; label: string }[] = [
  { value: 'auto', label: 'As the system' },
  { value: 'light', label: 'Light' },
  { value: 'dark', label: 'Dark' },
];

/** Who is signed in here, how his screen looks, and the way out. */
export function AccountMenu({ me }: { me: Me }) {
  const { colorScheme, setColorScheme } = useMantineColorScheme();
  const [changing, setChanging] = useState(false);
  const queries = useQueryClient();
  const navigate = useNavigate();
  const leave = useMutation({
    mutationFn: (how: () => Promise<void>) => how(),
    onSuccess: async () => {
      await navigate({ to: '/sign-in' });
      queries.clear();
    },
    onError: (error) => {
      const problem = asProblem(error);
      notifications.show({
        color: 'red',
        title: 'Still signed in',
        message: `${problem.detail} ${problem.mend}`,
      });
    },
  });
  return (
    <>
      <Menu width={230}>
        <Menu.Target>
          <ActionIcon size={36} radius="xl" aria-label={`Account: ${me.user.name}`}>
            <Avatar size={32} radius="xl" color="stem" variant="filled" aria-hidden>
              {initials(me.user.name)}
            </Avatar>
          </ActionIcon>
        </Menu.Target>
        <Menu.Dropdown>
          <Menu.Label style={{ overflowWrap: 'anywhere' }}>
            {me.user.name}
            <br />
            {me.user.email}
          </Menu.Label>
          <Menu.Divider />
          <Menu.Label>Colors</Menu.Label>
          <Menu.RadioGroup
            value={colorScheme}
            onChange={(value) => setColorScheme(value as MantineColorScheme)}
          >
            {schemes.map((scheme) => (
              <Menu.RadioItem key={scheme.value} value={scheme.value}>
                {scheme.label}
              </Menu.RadioItem>
            ))}
          </Menu.RadioGroup>
          <Menu.Divider />
          <DialogItem onChoose={() => setChanging(true)}>Change password</DialogItem>
          <Menu.Item onClick={() => leave.mutate(signOut)}>Sign out</Menu.Item>
          <Menu.Item onClick={() => leave.mutate(signOutEverywhere)}>Sign out everywhere</Menu.Item>
        </Menu.Dropdown>
      </Menu>
      <ChangePassword opened={changing} onClose={() => setChanging(false)} />
    </>
  );
}
