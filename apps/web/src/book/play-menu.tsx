import { ActionIcon, Menu } from '@mantine/core';
import type { BoardLine } from '@stemline/protocol/api/boards';
import {
  IconArchive,
  IconArchiveOff,
  IconCopy,
  IconDots,
  IconRosetteDiscountCheck,
  IconShare2,
  IconUserPlus,
} from '@tabler/icons-react';
import { DialogItem } from '../common/dialog-item.tsx';
import { type PlayAction, playActionWords } from './play-actions.ts';

const icons = {
  open: IconShare2,
  openSigned: IconRosetteDiscountCheck,
  duplicate: IconCopy,
  letIn: IconUserPlus,
  archive: IconArchive,
  restore: IconArchiveOff,
};

export function PlayMenu(props: {
  line: BoardLine;
  actions: readonly PlayAction[];
  onChoose: (action: PlayAction) => void;
}) {
  if (props.actions.length === 0) return null;
  return (
    <Menu>
      <Menu.Target>
        <ActionIcon size={32} aria-label={`More for ${props.line.name}`}>
          <IconDots size={18} aria-hidden />
        </ActionIcon>
      </Menu.Target>
      <Menu.Dropdown>
        {props.actions.map((action) => {
          const Icon = icons[action];
          return (
            <DialogItem
              key={action}
              leftSection={<Icon size={16} aria-hidden />}
              onChoose={() => props.onChoose(action)}
            >
              {playActionWords[action]}
            </DialogItem>
          );
        })}
      </Menu.Dropdown>
    </Menu>
  );
}
