import { ActionIcon, Menu, NativeSelect, Popover } from '@mantine/core';
import type { BranchId, Condition, ReadCard, Row, RowId } from '@stemline/read-rules/card';
import type { FactName } from '@stemline/read-rules/fact-name';
import { factNames, facts } from '@stemline/read-rules/facts';
import type { Finding } from '@stemline/read-rules/finding';
import { IconChevronDown, IconGripVertical, IconPlus } from '@tabler/icons-react';
import { type CSSProperties, type KeyboardEvent, type ReactNode, useState } from 'react';
import { SeverityIcon } from '../common/severity.tsx';
import { askedFacts, branchName, cellWords, conditionOf } from './card-words.ts';
import { ConditionEditor } from './condition-editor.tsx';
import classes from './decision-table.module.css';

/** What an editor of a table can do; without it the table is only read. */
export interface TableHand {
  ask: (row: Row, fact: FactName, condition: Condition | null) => void;
  lead: (row: Row, branch: BranchId) => void;
  move: (row: RowId, after: RowId | null) => void;
  /** What stands under an opened row. */
  details: (row: Row, index: number) => ReactNode;
  /** A row was taken up. */
  onTouch: (row: RowId) => void;
}

export interface TableMarks {
  /** The row that answers the look on the board. */
  lit: RowId | null;
  fits: readonly RowId[];
  findings: ReadonlyMap<RowId, readonly Finding[]>;
  onFinding: (finding: Finding) => void;
  /** Who else is at a row, with his colour. */
  others: ReadonlyMap<RowId, { name: string; color: string }>;
}

const unmarked: TableMarks = {
  lit: null,
  fits: [],
  findings: new Map(),
  onFinding: () => undefined,
  others: new Map(),
};

/** Rows shown before the rest is asked for: a long card must not slow the board down. */
const shownAtFirst = 60;

function Cell({
  card,
  row,
  index,
  fact,
  hand,
}: {
  card: ReadCard;
  row: Row;
  index: number;
  fact: FactName;
  hand: TableHand | null;
}) {
  const [open, setOpen] = useState(false);
  const condition = conditionOf(row, fact);
  const words = condition ? cellWords(condition) : null;
  const text = words ?? <span className={classes.any}>any</span>;
  if (!hand) return <td data-label={facts[fact].label}>{text}</td>;
  return (
    <td data-label={facts[fact].label} data-empty={condition === undefined || undefined}>
      <Popover
        opened={open}
        onChange={setOpen}
        position="bottom-start"
        shadow="md"
        trapFocus
        returnFocus
        withinPortal
      >
        <Popover.Target>
          <button
            type="button"
            className={classes.cell}
            aria-label={`Row ${index + 1}, ${facts[fact].label}: ${words ?? 'any'}`}
            onClick={() => {
              hand.onTouch(row.id);
              setOpen(true);
            }}
          >
            {text}
          </button>
        </Popover.Target>
        <Popover.Dropdown>
          <ConditionEditor
            card={card}
            fact={fact}
            condition={condition}
            onCancel={() => setOpen(false)}
            onKeep={(next) => {
              hand.ask(row, fact, next);
              setOpen(false);
            }}
          />
        </Popover.Dropdown>
      </Popover>
    </td>
  );
}

function RowFindings({
  findings,
  columns,
  onFinding,
}: {
  findings: readonly Finding[];
  columns: number;
  onFinding: (finding: Finding) => void;
}) {
  return (
    <tr className={classes.findings}>
      <td colSpan={columns}>
        {findings.slice(0, 3).map((finding) => (
          <button
            key={finding.id}
            type="button"
            className={classes.finding}
            data-severity={finding.severity}
            onClick={() => onFinding(finding)}
          >
            <SeverityIcon severity={finding.severity} size={14} />
            <span>{finding.says}</span>
          </button>
        ))}
        {findings.length > 3 && (
          <span className={classes.any}>and {findings.length - 3} more under Findings</span>
        )}
      </td>
    </tr>
  );
}

function TableRow({
  card,
  row,
  index,
  columns,
  hand,
  marks,
  dragged,
  onDrag,
}: {
  card: ReadCard;
  row: Row;
  index: number;
  columns: readonly FactName[];
  hand: TableHand | null;
  marks: TableMarks;
  dragged: RowId | null;
  onDrag: (row: RowId | null) => void;
}) {
  const [open, setOpen] = useState(false);
  const [over, setOver] = useState(false);
  const findings = marks.findings.get(row.id) ?? [];
  const other = marks.others.get(row.id);
  const lit = marks.lit === row.id;
  const last = columns.length + (hand ? 3 : 2);
  const step = (by: -1 | 1): void => {
    const to = index + by;
    if (!hand || to < 0 || to >= card.rows.length) return;
    hand.move(row.id, (by < 0 ? card.rows[to - 1] : card.rows[to])?.id ?? null);
  };
  const onGripKey = (event: KeyboardEvent): void => {
    if (event.key !== 'ArrowUp' && event.key !== 'ArrowDown') return;
    event.preventDefault();
    step(event.key === 'ArrowUp' ? -1 : 1);
  };
  return (
    <>
      <tr
        className={classes.row}
        data-says={row.says !== '' || undefined}
        data-lit={lit || undefined}
        data-fits={(!lit && marks.fits.includes(row.id)) || undefined}
        data-over={over || undefined}
        style={other ? ({ '--who': other.color } as CSSProperties) : undefined}
        data-other={other ? true : undefined}
        aria-current={lit ? 'true' : undefined}
        onDragOver={(event) => {
          if (dragged === null || dragged === row.id) return;
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={() => {
          setOver(false);
          if (hand && dragged !== null && dragged !== row.id) hand.move(dragged, row.id);
        }}
      >
        <th scope="row" className={classes.number}>
          {hand ? (
            <button
              type="button"
              className={classes.grip}
              draggable
              aria-label={`Row ${index + 1}: drag, or use the up and down arrows, to move it`}
              onKeyDown={onGripKey}
              onDragStart={(event) => {
                event.dataTransfer.effectAllowed = 'move';
                onDrag(row.id);
              }}
              onDragEnd={() => onDrag(null)}
            >
              <IconGripVertical size={13} aria-hidden />
              {index + 1}
            </button>
          ) : (
            index + 1
          )}
          {other && <span className={classes.who}>{other.name}</span>}
        </th>
        {columns.map((fact) => (
          <Cell key={fact} card={card} row={row} index={index} fact={fact} hand={hand} />
        ))}
        <td data-label="Then" className={classes.then}>
          {hand ? (
            <NativeSelect
              size="xs"
              variant="unstyled"
              aria-label={`Row ${index + 1} leads to`}
              value={row.branch}
              onFocus={() => hand.onTouch(row.id)}
              onChange={({ currentTarget }) => {
                const branch = card.branches.find(({ id }) => id === currentTarget.value);
                if (branch) hand.lead(row, branch.id);
              }}
              data={[
                ...card.branches.map(({ id, name }) => ({ value: id as string, label: name })),
                ...(card.branches.some(({ id }) => id === row.branch)
                  ? []
                  : [{ value: row.branch as string, label: 'a branch that is gone' }]),
              ]}
            />
          ) : (
            <strong>{branchName(card, row.branch)}</strong>
          )}
        </td>
        {hand && (
          <td className={classes.more}>
            <button
              type="button"
              className={classes.open}
              aria-expanded={open}
              aria-label={`More for row ${index + 1}`}
              onClick={() => {
                hand.onTouch(row.id);
                setOpen(!open);
              }}
            >
              <IconChevronDown size={17} aria-hidden />
            </button>
          </td>
        )}
      </tr>
      {row.says !== '' && (
        <tr className={classes.says} data-lit={lit || undefined}>
          <td colSpan={last}>{row.says}</td>
        </tr>
      )}
      {findings.length > 0 && (
        <RowFindings findings={findings} columns={last} onFinding={marks.onFinding} />
      )}
      {open && hand && (
        <tr className={classes.details}>
          <td colSpan={last}>{hand.details(row, index)}</td>
        </tr>
      )}
    </>
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
  const asked = askedFacts(card);
  const columns = factNames.filter((name) => asked.includes(name) || extra.includes(name));
  const free = factNames.filter((name) => !columns.includes(name));
  const litAt = card.rows.findIndex(({ id }) => id === marks.lit);
  const shown = all || litAt >= shownAtFirst ? card.rows : card.rows.slice(0, shownAtFirst);
  return (
    <div className={classes.scroll}>
      <table className={classes.table} aria-label={label}>
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
                <Menu position="bottom-end" withinPortal>
                  <Menu.Target>
                    <ActionIcon size="sm" aria-label="Ask about another fact">
                      <IconPlus size={15} aria-hidden />
                    </ActionIcon>
                  </Menu.Target>
                  <Menu.Dropdown mah="20rem" style={{ overflowY: 'auto' }}>
                    <Menu.Label>Ask about</Menu.Label>
                    {free.map((name) => (
                      <Menu.Item key={name} onClick={() => setExtra([...extra, name])}>
                        {facts[name].label}
                      </Menu.Item>
                    ))}
                  </Menu.Dropdown>
                </Menu>
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
