import { ActionIcon, Menu } from '@mantine/core';
import type { ReadCard, RowId } from '@stemline/read-rules/card';
import type { FactName } from '@stemline/read-rules/fact-name';
import { factNames, facts } from '@stemline/read-rules/facts';
import { IconPlus } from '@tabler/icons-react';
import { useCallback, useRef, useState } from 'react';
import { askedFacts } from './card-words.ts';
import classes from './decision-table.module.css';
import { type TableHand, type TableMarks, unmarked } from './table-hand.ts';
import { TableRow } from './table-row.tsx';

/** Rows shown before the rest is asked for: a long card must not slow the board down. */
const shownAtFirst = 60;

function AnotherFact({
  free,
  onChoose,
}: {
  free: readonly FactName[];
  onChoose: (fact: FactName) => void;
}) {
  return (
    <Menu position="bottom-end" withinPortal>
      <Menu.Target>
        <ActionIcon size="sm" aria-label="Ask about another fact">
          <IconPlus size={15} aria-hidden />
        </ActionIcon>
      </Menu.Target>
      <Menu.Dropdown mah="20rem" style={{ overflowY: 'auto' }}>
        <Menu.Label>Ask about</Menu.Label>
        {free.map((name) => (
          <Menu.Item key={name} onClick={() => onChoose(name)}>
            {facts[name].label}
          </Menu.Item>
        ))}
      </Menu.Dropdown>
    </Menu>
  );
}

/** A read card's rows as a decision table: one row a line, one fact a column, in words. */
export function DecisionTable({
  card,
  label,
  hand = null,
  marks = unmarked,
}: {
  card: ReadCard;
  label: string;
  hand?: TableHand | null;
  marks?: TableMarks;
}) {
  const [extra, setExtra] = useState<readonly FactName[]>([]);
  const [all, setAll] = useState(false);
  const [dragged, setDragged] = useState<RowId | null>(null);
  const [open, setOpen] = useState<{ row: RowId; fact: FactName } | null>(null);
  const table = useRef<HTMLTableElement>(null);
  const asked = askedFacts(card);
  const columns = factNames.filter((name) => asked.includes(name) || extra.includes(name));
  const free = factNames.filter((name) => !columns.includes(name));
  const litAt = card.rows.findIndex(({ id }) => id === marks.lit);
  const shown = all || litAt >= shownAtFirst ? card.rows : card.rows.slice(0, shownAtFirst);

  const onOpen = useCallback((row: RowId, number: number, fact: FactName | null): void => {
    setOpen(fact === null ? null : { row, fact });
    if (fact !== null) return;
    // The cell that was open is drawn anew when it closes: the focus goes back to it.
    requestAnimationFrame(() => {
      const active = document.activeElement;
      if (active && active !== document.body) return;
      table.current
        ?.querySelector<HTMLElement>(`button[aria-label^="Row ${number},"]`)
        ?.focus({ preventScroll: true });
    });
  }, []);

  return (
    <div className={classes.scroll}>
      <table ref={table} className={classes.table} aria-label={label}>
        <thead>
          <tr>
            <th scope="col">
              <abbr title="Row">#</abbr>
            </th>
            {columns.map((name) => (
              <th key={name} scope="col" title={facts[name].help}>
                {facts[name].label}
              </th>
            ))}
            <th scope="col">Then</th>
            {hand && (
              <th scope="col" className={classes.more}>
                <AnotherFact free={free} onChoose={(name) => setExtra([...extra, name])} />
              </th>
            )}
          </tr>
        </thead>
        <tbody>
          {shown.map((row, index) => (
            <TableRow
              key={row.id}
              card={card}
              row={row}
              index={index}
              columns={columns}
              hand={hand}
              marks={marks}
              openFact={open?.row === row.id ? open.fact : null}
              onOpen={(fact) => onOpen(row.id, index + 1, fact)}
              dragged={dragged}
              onDrag={setDragged}
            />
          ))}
        </tbody>
      </table>
      {card.rows.length === 0 && <p className={classes.none}>No rows yet.</p>}
      {shown.length < card.rows.length && (
        <button type="button" className={classes.showAll} onClick={() => setAll(true)}>
          Show all {card.rows.length} rows
        </button>
      )}
    </div>
  );
}
