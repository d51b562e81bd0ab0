import { Button, Group, Stack } from '@mantine/core';
import type { ReadCard, Row } from '@stemline/read-rules/card';
import { wrongOf } from '../board/wrong.ts';
import { DraftText } from '../common/draft-text.tsx';
import { useBoard } from '../live/hooks.ts';
import { copyOfRow } from './new-card.ts';

/** What a row has beside its cells: the coach's own words, its place, its copy, its end. */
export function RowDetails({ card, row, index }: { card: ReadCard; row: Row; index: number }) {
  const board = useBoard();
  const { player, rows } = card;
  return (
    <Stack gap="xs" pt={6}>
      <DraftText
        size="xs"
        label={`Row ${index + 1} in your own words`}
        maxLength={200}
        value={row.says}
        keep={(says) => wrongOf(board.putRow(player, { ...row, says }))}
      />
      <Group gap="xs">
        <Button
          size="compact-xs"
          variant="default"
          disabled={index === 0}
          onClick={() => board.moveRow(player, row.id, rows[index - 2]?.id ?? null)}
        >
          Move up
        </Button>
        <Button
          size="compact-xs"
          variant="default"
          disabled={index === rows.length - 1}
          onClick={() => board.moveRow(player, row.id, rows[index + 1]?.id ?? null)}
        >
          Move down
        </Button>
        <Button
          size="compact-xs"
          variant="default"
          onClick={() => board.putRow(player, copyOfRow(row), { after: row.id })}
        >
          Copy row
        </Button>
        <Button
          size="compact-xs"
          variant="subtle"
          color="red"
          onClick={() => board.removeRow(player, row.id)}
        >
          Remove row
        </Button>
      </Group>
    </Stack>
  );
}
