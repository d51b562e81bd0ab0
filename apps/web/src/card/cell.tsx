import { Popover } from '@mantine/core';
import type { Condition, ReadCard } from '@stemline/read-rules/card';
import type { FactName } from '@stemline/read-rules/fact-name';
import { facts } from '@stemline/read-rules/facts';
import { memo } from 'react';
import { ConditionEditor } from './condition-editor.tsx';
import classes from './decision-table.module.css';

/** A cell that is only read. */
export function ReadCell({ fact, words }: { fact: FactName; words: string | null }) {
  return (
    <td data-label={facts[fact].label} data-empty={words === null || undefined}>
      {words ?? <span className={classes.any}>any</span>}
    </td>
  );
}

interface EditCellProps {
  number: number;
  fact: FactName;
  words: string | null;
  onOpen: () => void;
}

/** A cell to be opened. A long card has many: each is drawn again only when what it says changes. */
export const EditCell = memo(
  function EditCell({ number, fact, words, onOpen }: EditCellProps) {
    const { label } = facts[fact];
    return (
      <td data-label={label}>
        <button
          type="button"
          className={classes.cell}
          aria-label={`Row ${number}, ${label}: ${words ?? 'any'}`}
          onClick={onOpen}
        >
          {words ?? <span className={classes.any}>any</span>}
        </button>
      </td>
    );
  },
  (a, b) => a.number === b.number && a.fact === b.fact && a.words === b.words,
);

/** The one cell that is open, with its editor beside it. */
export function OpenCell({
  card,
  number,
  fact,
  words,
  condition,
  onKeep,
  onClose,
}: {
  card: ReadCard;
  number: number;
  fact: FactName;
  words: string | null;
  condition: Condition | undefined;
  onKeep: (condition: Condition | null) => void;
  onClose: () => void;
}) {
  const { label } = facts[fact];
  return (
    <td data-label={label}>
      <Popover
        opened
        onDismiss={onClose}
        position="bottom-start"
        shadow="md"
        trapFocus
        withinPortal
      >
        <Popover.Target>
          <button
            type="button"
            className={classes.cell}
            aria-label={`Row ${number}, ${label}: ${words ?? 'any'}`}
          >
            {words ?? <span className={classes.any}>any</span>}
          </button>
        </Popover.Target>
        <Popover.Dropdown>
          <ConditionEditor
            card={card}
            fact={fact}
            condition={condition}
            onCancel={onClose}
            onKeep={(next) => {
              onKeep(next);
              onClose();
            }}
          />
        </Popover.Dropdown>
      </Popover>
    </td>
  );
}
