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
  const places = problem.where ?? [];
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
          {places.length === 0 && problem.detail} {problem.mend}
        </Text>
        {places.length > 0 && (
          <List size="sm">
            {places.map((place) => (
              <List.Item key={`${place.path} ${place.message}`}>{placeOf(place)}</List.Item>
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

/** The reader knows that he sent it, and of one field alone what it is called. */
function placeOf({ path, message }: { path: string; message: string }): string {
  const within = path.replace(/^body\.?/, '');
  return within === '' ? message : `${within}: ${message}`;
}
