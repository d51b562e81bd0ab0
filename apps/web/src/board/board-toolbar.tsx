import { ActionIcon, Menu, SegmentedControl, Switch, Tooltip } from '@mantine/core';
import {
  IconArrowBackUp,
  IconArrowForwardUp,
  IconDots,
  IconFlipVertical,
  IconHandFinger,
  IconHistory,
  IconLayoutGrid,
  IconLine,
  IconRoute,
  IconX,
} from '@tabler/icons-react';
import { Link } from '@tanstack/react-router';
import { useState, useSyncExternalStore } from 'react';
import { DialogItem } from '../common/dialog-item.tsx';
import { useBoard, usePlay } from '../live/hooks.ts';
import { useOnTheBoard } from '../looks/standing-context.tsx';
import classes from './board-toolbar.module.css';
import type { Tool } from './board-ui.ts';
import { useBoardUi } from './board-ui-context.tsx';
import { ChangeFormation } from './change-formation.tsx';
import { useRights } from './rights.ts';
import { writeTogether } from './tools/edit.ts';
import { mirrorEdits } from './tools/mirror.ts';

const tools: { value: Tool; label: string; key: string; Icon: typeof IconRoute }[] = [
  { value: 'select', label: 'Select', key: 'V', Icon: IconHandFinger },
  { value: 'route', label: 'Draw route', key: 'R', Icon: IconRoute },
  { value: 'motion', label: 'Draw motion', key: 'M', Icon: IconLine },
];

/** Tools, undo, and what concerns the whole drawing. */
export function BoardToolbar({ boardId }: { boardId: string }) {
  const board = useBoard();
  const play = usePlay();
  const rights = useRights();
  const [ui, tell] = useBoardUi();
  const { standing } = useOnTheBoard();
  const [changing, setChanging] = useState(false);
  const canUndo = useSyncExternalStore(board.undo.subscribe, board.undo.canUndo);
  const canRedo = useSyncExternalStore(board.undo.subscribe, board.undo.canRedo);
  return (
    <div className={classes.bar} role="toolbar" aria-label="Board tools">
      {rights.any && (
        <>
          <SegmentedControl
            size="xs"
            aria-label="Tool"
            value={ui.tool}
            onChange={(tool) => tell({ do: 'tool', tool: tool as Tool })}
            data={tools.map(({ value, label, key, Icon }) => ({
              value,
              label: (
                <span className={classes.tool} title={`${label} (${key})`}>
                  <Icon size={16} stroke={1.9} aria-hidden />
                  <span className={classes.toolName}>{label}</span>
                </span>
              ),
            }))}
          />
          <div className={classes.group}>
            <Tooltip label="Undo (Ctrl Z)">
              <ActionIcon
                aria-label="Undo"
                size="lg"
                className={classes.step ?? ''}
                disabled={!canUndo}
                onClick={board.undo.undo}
              >
                <IconArrowBackUp size={19} stroke={1.9} aria-hidden />
              </ActionIcon>
            </Tooltip>
            <Tooltip label="Redo (Ctrl Shift Z)">
              <ActionIcon
                aria-label="Redo"
                size="lg"
                className={classes.step ?? ''}
                disabled={!canRedo}
                onClick={board.undo.redo}
              >
                <IconArrowForwardUp size={19} stroke={1.9} aria-hidden />
              </ActionIcon>
            </Tooltip>
          </div>
        </>
      )}
      {standing && (
        <div className={classes.look}>
          <span className={classes.lookName}>{standing.look.name}</span>
          <Tooltip label="Take the look off the board">
            <ActionIcon
              size="sm"
              aria-label={`Take ${standing.look.name} off the board`}
              onClick={() => tell({ do: 'clearDefence' })}
            >
              <IconX size={14} aria-hidden />
            </ActionIcon>
          </Tooltip>
        </div>
      )}
      <Menu closeOnItemClick={false}>
        <Menu.Target>
          <ActionIcon size="lg" aria-label="More for this board" className={classes.more ?? ''}>
            <IconDots size={19} aria-hidden />
          </ActionIcon>
        </Menu.Target>
        <Menu.Dropdown>
          {rights.all && (
            <>
              <DialogItem
                closeMenuOnClick
                leftSection={<IconLayoutGrid size={16} aria-hidden />}
                onChoose={() => setChanging(true)}
              >
                Change formation
              </DialogItem>
              <Menu.Item
                closeMenuOnClick
                leftSection={<IconFlipVertical size={16} aria-hidden />}
                onClick={() => writeTogether(board, mirrorEdits(play))}
              >
                Mirror the play
              </Menu.Item>
              <Menu.Divider />
            </>
          )}
          <Menu.Item
            component={Link}
            to={`/boards/${boardId}/history`}
            closeMenuOnClick
            leftSection={<IconHistory size={16} aria-hidden />}
          >
            History
          </Menu.Item>
          <Menu.Divider />
          <Menu.Label>Show</Menu.Label>
          <div className={classes.switches}>
            <Switch
              size="sm"
              label="Reactions of the defense"
              checked={ui.showReactions}
              onChange={({ currentTarget }) =>
                tell({ do: 'showReactions', shown: currentTarget.checked })
              }
            />
            <Switch
              size="sm"
              label="Branches of the cards"
              checked={ui.showBranches}
              onChange={({ currentTarget }) =>
                tell({ do: 'showBranches', shown: currentTarget.checked })
              }
            />
            <Switch
              size="sm"
              label="Who blocks whom"
              checked={ui.showBlocking}
              onChange={({ currentTarget }) =>
                tell({ do: 'showBlocking', shown: currentTarget.checked })
              }
            />
            <Switch
              size="sm"
              label="Formation only, larger"
              checked={ui.cropped ?? false}
              onChange={({ currentTarget }) => tell({ do: 'crop', cropped: currentTarget.checked })}
            />
          </div>
        </Menu.Dropdown>
      </Menu>
      <ChangeFormation opened={changing} onClose={() => setChanging(false)} />
    </div>
  );
}
