import { ActionIcon, Avatar, Menu } from '@mantine/core';
import type { Member } from '@stemline/protocol/api/staffs';
import { IconDots } from '@tabler/icons-react';
import { DialogItem } from '../common/dialog-item.tsx';
import { initials } from '../common/initials.ts';
import classes from '../common/rows.module.css';
import { Time } from '../common/time.tsx';
import { roleWords } from './role-words.ts';

export function MemberList(props: {
  members: readonly Member[];
  /** The reader's own membership; he can't change or remove himself here. */
  ownId: string;
  mayChange: boolean;
  onChange: (member: Member) => void;
  onRemove: (member: Member) => void;
}) {
  return (
    <ul className={classes.rows} aria-label="Members">
      {props.members.map((member) => (
        <li key={member.id} className={classes.row}>
          <Avatar size={34} radius="xl" color="stem" aria-hidden>
            {initials(member.name)}
          </Avatar>
          <div className={classes.main}>
            <span className={classes.name}>
              {member.name}
              {member.id === props.ownId && <span className={classes.aside}> (you)</span>}
            </span>
            <span className={classes.aside}>{member.email}</span>
          </div>
          <span className={classes.fact}>{roleWords(member.role, member.group)}</span>
          <span className={classes.when}>
            joined <Time at={member.since} />
          </span>
          {props.mayChange && (
            <span className={classes.more}>
              {member.id !== props.ownId && (
                <Menu>
                  <Menu.Target>
                    <ActionIcon size={32} aria-label={`More for ${member.name}`}>
                      <IconDots size={18} aria-hidden />
                    </ActionIcon>
                  </Menu.Target>
                  <Menu.Dropdown>
                    <DialogItem onChoose={() => props.onChange(member)}>Change role</DialogItem>
                    <DialogItem color="red" onChoose={() => props.onRemove(member)}>
                      Remove from staff
                    </DialogItem>
                  </Menu.Dropdown>
                </Menu>
              )}
            </span>
          )}
        </li>
      ))}
    </ul>
  );
}
