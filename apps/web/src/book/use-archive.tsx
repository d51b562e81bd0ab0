import { Button, Group } from '@mantine/core';
import { modals } from '@mantine/modals';
import { notifications } from '@mantine/notifications';
import type { BoardLine } from '@stemline/protocol/api/boards';
import { asProblem } from '../api/api-problem.ts';
import { useArchiveBoard } from '../api/boards.ts';

/** Long enough to see that it was the wrong play. */
const undoForMs = 15_000;

/** Takes plays out of the book and back: asks first where players lose one, and can be undone. */
export function useArchive(staffId: string) {
  const board = useArchiveBoard(staffId);

  // Awaited, so that it is told too when the book was left meanwhile.
  const put = async (line: BoardLine, archived: boolean): Promise<void> => {
    try {
      await board.mutateAsync({ boardId: line.id, archived });
    } catch (error) {
      const { title, detail, mend } = asProblem(error);
      notifications.show({ color: 'red', title, message: `${detail} ${mend}` });
      return;
    }
    if (archived) tellArchived(line);
    else
      notifications.show({
        title: `${line.name} is back in the book`,
        message: 'Everybody on the staff sees it again.',
      });
  };

  const tellArchived = (line: BoardLine): void => {
    const told = notifications.show({
      title: `${line.name} is archived`,
      autoClose: undoForMs,
      message: (
        <Group gap="xs" justify="space-between" wrap="nowrap">
          <span>It is kept whole under Archived, and can be restored there.</span>
          <Button
            size="compact-sm"
            variant="default"
            style={{ flex: 'none' }}
            aria-label={`Undo archiving ${line.name}`}
            onClick={() => {
              notifications.hide(told);
              void put(line, false);
            }}
          >
            Undo
          </Button>
        </Group>
      ),
    });
  };

  return {
    restore: (line: BoardLine): void => void put(line, false),
    archive: (line: BoardLine): void => {
      if (line.signedVersion === null) {
        void put(line, true);
        return;
      }
      modals.openConfirmModal({
        title: `Archive ${line.name}?`,
        children: `Version ${line.signedVersion} is signed off. Players lose it from their book at once, until the play is restored.`,
        labels: { confirm: 'Archive', cancel: 'Cancel' },
        confirmProps: { color: 'red' },
        onConfirm: () => void put(line, true),
      });
    },
  };
}
