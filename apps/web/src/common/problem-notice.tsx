import { Alert, Button, List, Stack, Text } from '@mantine/core';
import { IconAlertTriangle } from '@tabler/icons-react';
import { asProblem } from '../api/api-problem.ts';

/** What went wrong, where it went wrong, and what to do about it. Read out at once. */
export function ProblemNotice({
  error,
  onRetry,
}: {
  error: unknown;
  onRetry?: (() => void) | undefined;
}) {
  if (error === null || error === undefined) return null;
  const problem = asProblem(error);
  return (
    <Alert
      role="alert"
      variant="light"
      color="red"
      icon={<IconAlertTriangle aria-hidden />}
      title={problem.title}
      styles={{ title: { color: 'var(--finding-stop)' }, icon: { color: 'var(--finding-stop)' } }}
      style={{ background: 'var(--finding-stop-soft)' }}
    >
      <Stack gap={6} align="flex-start">
        <Text size="sm">
          {problem.detail} {problem.mend}
        </Text>
        {problem.where !== undefined && problem.where.length > 0 && (
          <List size="sm">
            {problem.where.map((place) => (
              <List.Item key={`${place.path} ${place.message}`}>
                {place.path}: {place.message}
              </List.Item>
            ))}
          </List>
        )}
        {onRetry !== undefined && (
          <Button size="xs" variant="default" onClick={onRetry}>
            Try again
          </Button>
        )}
      </Stack>
    </Alert>
  );
}
