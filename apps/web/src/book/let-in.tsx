import { Modal, Stack, Switch, Text } from '@mantine/core';
import type { BoardLine } from '@stemline/protocol/api/boards';
import { useLetIn, useSetLetIn } from '../api/let-in.ts';
import { LoadingLines } from '../common/loading.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';

/** Who edits one play beyond what his role allows. */
export function LetIn({ line, onClose }: { line: BoardLine | null; onClose: () => void }) {
  return (
    <Modal opened={line !== null} onClose={onClose} title={`Let in to ${line?.name ?? ''}`}>
      {line !== null && <Members key={line.id} boardId={line.id} />}
    </Modal>
  );
}

function Members({ boardId }: { boardId: string }) {
  const members = useLetIn(boardId);
  const set = useSetLetIn(boardId);
  return (
    <Stack gap="sm">
      <Text size="sm">
        Whoever is let in edits this whole play: an assistant who could only comment, a position
        coach beyond his own group.
      </Text>
      {members.isPending && <LoadingLines what="the members" lines={3} />}
      <ProblemNotice error={members.error ?? set.error} />
      {members.isSuccess && members.data.length === 0 && (
        <Text size="sm">
          Everybody on this staff already edits the whole play, or only sees it signed off.
        </Text>
      )}
      {members.data?.map((member) => (
        <Switch
          key={member.memberId}
          label={member.name}
          checked={
            set.isPending && set.variables.memberId === member.memberId
              ? set.variables.letIn
              : member.letIn
          }
          onChange={(event) =>
            set.mutate({ memberId: member.memberId, letIn: event.currentTarget.checked })
          }
        />
      ))}
    </Stack>
  );
}
