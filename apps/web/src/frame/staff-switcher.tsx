import { Button, Menu } from '@mantine/core';
import type { Me } from '@stemline/protocol/api/staffs';
import { roleNames } from '@stemline/protocol/roles';
import { IconCheck, IconPlus, IconSelector } from '@tabler/icons-react';
import { useNavigate } from '@tanstack/react-router';
import classes from './frame.module.css';

/** Which staff's room this is; with one staff it is only a name and the way to start another. */
export function StaffSwitcher({ me, staffId }: { me: Me; staffId: string | undefined }) {
  const navigate = useNavigate();
  const current = me.memberships.find((membership) => membership.staffId === staffId);
  return (
    <Menu position="bottom-start">
      <Menu.Target>
        <Button
          variant="subtle"
          color="gray"
          className={classes.staff ?? ''}
          rightSection={<IconSelector size={16} aria-hidden />}
          aria-label={
            current === undefined ? 'Choose a staff' : `Staff: ${current.staffName}. Change staff`
          }
        >
          <span className={classes.staffName}>{current?.staffName ?? 'Choose a staff'}</span>
        </Button>
      </Menu.Target>
      <Menu.Dropdown>
        {me.memberships.map((membership) => (
          <Menu.Item
            key={membership.memberId}
            onClick={() =>
              void navigate({ to: '/staffs/$staffId', params: { staffId: membership.staffId } })
            }
            rightSection={
              membership === current ? <IconCheck size={16} aria-label="open now" /> : null
            }
          >
            {membership.staffName}
            <span className={classes.roleOf}>{roleNames[membership.role]}</span>
          </Menu.Item>
        ))}
        <Menu.Divider />
        <Menu.Item
          leftSection={<IconPlus size={16} aria-hidden />}
          onClick={() => void navigate({ to: '/welcome' })}
        >
          New staff
        </Menu.Item>
      </Menu.Dropdown>
    </Menu>
  );
}
