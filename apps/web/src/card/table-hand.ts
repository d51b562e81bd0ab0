import type { BranchId, Condition, Row, RowId } from '@stemline/read-rules/card';
import type { FactName } from '@stemline/read-rules/fact-name';
import type { Finding } from '@stemline/read-rules/finding';
import type { ReactNode } from 'react';

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

export const unmarked: TableMarks = {
  lit: null,
  fits: [],
  findings: new Map(),
  onFinding: () => undefined,
  others: new Map(),
};
