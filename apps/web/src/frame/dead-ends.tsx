import { Stack } from '@mantine/core';
import type { ErrorComponentProps } from '@tanstack/react-router';
import { ButtonLink } from '../common/links.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { Doorway } from './doorway.tsx';

export function NothingAtThisAddress() {
  return (
    <Doorway title="Nothing at this address">
      <Stack align="flex-start">
        <p style={{ margin: 0 }}>
          It may have been removed, or it belongs to a staff you are not on. Whoever sent you here
          can tell.
        </p>
        <ButtonLink to="/">Go to your book</ButtonLink>
      </Stack>
    </Doorway>
  );
}

export function BrokenPage({ error, reset }: ErrorComponentProps) {
  return (
    <Doorway title="This page could not be shown">
      <Stack align="flex-start">
        <ProblemNotice error={error} onRetry={reset} />
        <ButtonLink to="/" variant="default">
          Go to your book
        </ButtonLink>
      </Stack>
    </Doorway>
  );
}
