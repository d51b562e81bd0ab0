import { Button, Group, Modal, Stack, Text } from '@mantine/core';
import type { StaffLook } from '@stemline/protocol/api/looks';
import { useDeleteLook } from '../api/looks.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';

export function DeleteLook(props: {
  staffId: string;
  look: StaffLook | null;
  onClose: () => void;
}) {
  const remove = useDeleteLook(props.staffId);
  const { look } = props;
  return (
    <Modal
      opened={look !== null}
      onClose={props.onClose}
      title={`Delete ${look?.recipe.name ?? ''}`}
    >
      <Stack gap="sm">
        <Text size="sm">
          Every play of this staff is checked without it from now on. Findings it proved are closed.
        </Text>
        <ProblemNotice error={remove.error} />
        <Group justify="flex-end" gap="xs">
          <Button variant="default" onClick={props.onClose} data-autofocus>
            Cancel
          </Button>
          <Button
            color="red"
            loading={remove.isPending}
            onClick={() => {
              if (look !== null) remove.mutate(look.id, { onSuccess: props.onClose });
            }}
          >
            Delete look
          </Button>
        </Group>
      </Stack>
    </Modal>
  );
}
