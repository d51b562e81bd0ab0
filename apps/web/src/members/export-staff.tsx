import { Button, Stack, Text } from '@mantine/core';
import { may } from '@stemline/protocol/permissions';
import type { Role } from '@stemline/protocol/roles';
import { IconDownload } from '@tabler/icons-react';
import { useExportStaff } from '../api/staff.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { Section } from '../common/section.tsx';

/** The whole staff as a file, for whoever may take it along. */
export function ExportStaff({ staffId, role }: { staffId: string; role: Role }) {
  const save = useExportStaff(staffId);
  if (!may(role, 'staff.export')) return null;
  return (
    <Section title="Everything in one file">
      <Stack gap="sm" align="flex-start">
        <Text size="sm" c="dimmed" maw="65ch">
          Every play with its versions, comments and findings, and the look shelf. People are in it
          by name only. A new staff can be started from it.
        </Text>
        <ProblemNotice error={save.error} />
        <Button
          variant="default"
          leftSection={<IconDownload size={17} aria-hidden />}
          loading={save.isPending}
          onClick={() => save.mutate()}
        >
          Export staff
        </Button>
      </Stack>
    </Section>
  );
}
