import { Button, FileButton, Stack, Text } from '@mantine/core';
import { IconUpload } from '@tabler/icons-react';
import { useNavigate } from '@tanstack/react-router';
import { useImportStaff } from '../api/staff.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';

/** Starts a staff from the file that another one was saved to. */
export function ImportStaff() {
  const bring = useImportStaff();
  const navigate = useNavigate();
  const take = (file: File | null): void => {
    if (file === null) return;
    bring.mutate(file, {
      onSuccess: ({ staffId }) => void navigate({ to: '/staffs/$staffId', params: { staffId } }),
    });
  };
  return (
    <Stack gap="sm" align="flex-start">
      <Text size="sm" c="dimmed" maw="65ch">
        From a file that a head coach saved with Export staff. You become head coach of the new
        staff; invite the others again.
      </Text>
      <ProblemNotice error={bring.error} />
      <FileButton accept="application/json,.json" onChange={take}>
        {(props) => (
          <Button
            {...props}
            variant="default"
            leftSection={<IconUpload size={17} aria-hidden />}
            loading={bring.isPending}
          >
            Choose the file
          </Button>
        )}
      </FileButton>
    </Stack>
  );
}
