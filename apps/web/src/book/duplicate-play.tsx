import { Button, Group, Modal, Stack, TextInput } from '@mantine/core';
import { schemaResolver, useForm } from '@mantine/form';
import { type BoardLine, duplicateBoardSchema } from '@stemline/protocol/api/boards';
import { useNavigate } from '@tanstack/react-router';
import { useDuplicateBoard } from '../api/boards.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';

export function DuplicatePlay(props: {
  staffId: string;
  line: BoardLine | null;
  onClose: () => void;
}) {
  return (
    <Modal
      opened={props.line !== null}
      onClose={props.onClose}
      title={`Duplicate ${props.line?.name ?? ''}`}
    >
      {props.line !== null && (
        <DuplicateForm
          key={props.line.id}
          staffId={props.staffId}
          line={props.line}
          onClose={props.onClose}
        />
      )}
    </Modal>
  );
}

function DuplicateForm({
  staffId,
  line,
  onClose,
}: {
  staffId: string;
  line: BoardLine;
  onClose: () => void;
}) {
  const navigate = useNavigate();
  const duplicate = useDuplicateBoard(staffId);
  const fields = useForm({
    initialValues: { name: `${line.name} copy`.slice(0, 80) },
    validate: schemaResolver(duplicateBoardSchema, { sync: true }),
  });
  return (
    <form
      onSubmit={fields.onSubmit(({ name }) =>
        duplicate.mutate(
          { boardId: line.id, name },
          {
            onSuccess: ({ id }) =>
              void navigate({ to: '/boards/$boardId', params: { boardId: id } }),
          },
        ),
      )}
    >
      <Stack gap="sm">
        <TextInput
          label="Name of the new play"
          required
          data-autofocus
          {...fields.getInputProps('name')}
        />
        <ProblemNotice error={duplicate.error} />
        <Group justify="flex-end" gap="xs">
          <Button variant="default" onClick={onClose}>
            Cancel
          </Button>
          <Button type="submit" loading={duplicate.isPending}>
            Duplicate play
          </Button>
        </Group>
      </Stack>
    </form>
  );
}
