import { Button, Group, Modal, Stack, Text } from '@mantine/core';
import { notifications } from '@mantine/notifications';
import type { Board } from '@stemline/protocol/api/boards';
import type { PastBoard } from '@stemline/protocol/api/history';
import { useNavigate } from '@tanstack/react-router';
import { useRestore } from '../api/history.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { longWhen } from '../common/when.ts';

export function RestoreBoard({
  board,
  past,
  opened,
  onClose,
}: {
  board: Board;
  past: PastBoard;
  opened: boolean;
  onClose: () => void;
}) {
  const restore = useRestore(board.id);
  const navigate = useNavigate();
  const when = longWhen(past.time);
  return (
    <Modal opened={opened} onClose={onClose} title={`Restore ${board.name}`}>
      <Stack gap="sm">
        <Text size="sm">
          The working board will say again what it said on {when}, for everybody who has it open. It
          is one new edit of yours: what was done since stays in the history, and can be restored
          too.
        </Text>
        <ProblemNotice error={restore.error} />
        <Group justify="flex-end" gap="xs">
          <Button variant="default" onClick={onClose} data-autofocus>
            Cancel
          </Button>
          <Button
            loading={restore.isPending}
            onClick={() =>
              restore.mutate(past.time, {
                onSuccess: async () => {
                  await navigate({ to: '/boards/$boardId', params: { boardId: board.id } });
                  notifications.show({ title: 'Restored', message: `As it was on ${when}.` });
                },
              })
            }
          >
            Restore
          </Button>
        </Group>
      </Stack>
    </Modal>
  );
}
