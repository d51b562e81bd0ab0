import { Skeleton, Stack, VisuallyHidden } from '@mantine/core';

/** Holds the place of lines that are being read, and says so to a screen reader. */
export function LoadingLines({ what, lines = 6 }: { what: string; lines?: number }) {
  return (
    <Stack gap={8} role="status">
      <VisuallyHidden>Reading {what}</VisuallyHidden>
      {Array.from({ length: lines }, (_, line) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: placeholders have no identity
        <Skeleton key={line} height={38} radius="sm" />
      ))}
    </Stack>
  );
}
