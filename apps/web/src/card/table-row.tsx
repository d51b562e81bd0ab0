import type { ReadCard, Row, RowId } from '@stemline/read-rules/card';
import type { FactName } from '@stemline/read-rules/fact-name';
import type { Finding } from '@stemline/read-rules/finding';
import { IconChevronDown, IconGripVertical } from '@tabler/icons-react';
import { type CSSProperties, type KeyboardEvent, useState } from 'react';
import { initials } from '../common/initials.ts';
import { SeverityIcon } from '../common/severity.tsx';
import { branchName, cellWords, conditionOf } from './card-words.ts';
import { EditCell, OpenCell, ReadCell } from './cell.tsx';
import classes from './decision-table.module.css';
import type { TableHand, TableMarks } from './table-hand.ts';

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

/** Where a row leads. */
function Then({
  card,
  row,
  number,
  hand,
}: {
  card: ReadCard;
  row: Row;
  number: number;
  hand: TableHand;
}) {
  const known = card.branches.some(({ id }) => id === row.branch);
  return (
    <select
      className={classes.lead}
      aria-label={`Row ${number} leads to`}
      value={row.branch}
      onFocus={() => hand.onTouch(row.id)}
      onChange={({ currentTarget }) => {
        const branch = card.branches.find(({ id }) => id === currentTarget.value);
        if (branch) hand.lead(row, branch.id);
      }}
    >
      {card.branches.map(({ id, name }) => (
        <option key={id} value={id}>
          {name}
        </option>
      ))}
      {!known && <option value={row.branch}>a branch that is gone</option>}
    </select>
  );
}

export interface TableRowProps {
  card: ReadCard;
  row: Row;
  index: number;
  columns: readonly FactName[];
  hand: TableHand | null;
  marks: TableMarks;
  /** The fact of this row's open cell. */
  openFact: FactName | null;
  onOpen: (fact: FactName | null) => void;
  dragged: RowId | null;
  onDrag: (row: RowId | null) => void;
}

/** One row of a card, with what it says in the coach's words and what the rule check says of it. */
export function TableRow({
  card,
  row,
  index,
  columns,
  hand,
  marks,
  openFact,
  onOpen,
  dragged,
  onDrag,
}: TableRowProps) {
  const [open, setOpen] = useState(false);
  const [over, setOver] = useState(false);
  const number = index + 1;
  const findings = marks.findings.get(row.id) ?? [];
  const other = marks.others.get(row.id);
  const lit = marks.lit === row.id;
  const width = columns.length + (hand ? 3 : 2);
  const onGripKey = (event: KeyboardEvent): void => {
    const by = event.key === 'ArrowUp' ? -1 : event.key === 'ArrowDown' ? 1 : 0;
    const to = index + by;
    if (by === 0 || !hand) return;
    event.preventDefault();
    if (to < 0 || to >= card.rows.length) return;
    hand.move(row.id, card.rows[by < 0 ? to - 1 : to]?.id ?? null);
  };
  return (
    <>
      <tr
        className={classes.row}
        data-open-below={row.says !== '' || findings.length > 0 || undefined}
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
              aria-label={`Row ${number}: drag, or use the up and down arrows, to move it`}
              onKeyDown={onGripKey}
              onDragStart={(event) => {
                event.dataTransfer.effectAllowed = 'move';
                onDrag(row.id);
              }}
              onDragEnd={() => onDrag(null)}
            >
              <IconGripVertical size={13} aria-hidden />
              {number}
            </button>
          ) : (
            number
          )}
          {other && (
            <span className={classes.who} title={`${other.name} is here`}>
              {initials(other.name)}
            </span>
          )}
        </th>
        {columns.map((fact) => {
          const condition = conditionOf(row, fact);
          const words = condition ? cellWords(condition) : null;
          if (!hand) return <ReadCell key={fact} fact={fact} words={words} />;
          if (fact === openFact) {
            return (
              <OpenCell
                key={fact}
                card={card}
                number={number}
                fact={fact}
                words={words}
                condition={condition}
                onClose={() => onOpen(null)}
                onKeep={(next) => hand.ask(row, fact, next)}
              />
            );
          }
          return (
            <EditCell
              key={fact}
              number={number}
              fact={fact}
              words={words}
              onOpen={() => {
                hand.onTouch(row.id);
                onOpen(fact);
              }}
            />
          );
        })}
        <td data-label="Then" className={classes.then}>
          {hand ? (
            <Then card={card} row={row} number={number} hand={hand} />
          ) : (
            branchName(card, row.branch)
          )}
        </td>
        {hand && (
          <td className={classes.more}>
            <button
              type="button"
              className={classes.open}
              aria-expanded={open}
              aria-label={`More for row ${number}`}
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
          <td colSpan={width}>{row.says}</td>
        </tr>
      )}
      {findings.length > 0 && (
        <RowFindings findings={findings} columns={width} onFinding={marks.onFinding} />
      )}
      {open && hand && (
        <tr className={classes.details}>
          <td colSpan={width}>{hand.details(row, index)}</td>
        </tr>
      )}
    </>
  );
}
