import type { Cell, LookOnPage, SamePage } from '@stemline/read-rules/same-page/same-page';

/** Cells of one look that come to the same for everybody: one line of the table. */
export interface Group {
  key: string;
  /** In the order of the table, the called one first where it is among them. */
  cells: readonly [Cell, ...Cell[]];
}

const outcome = ({ readings, off, margin }: Cell): string =>
  JSON.stringify([
    readings.map(({ keys, row, branch, torn }) => [
      keys.map(({ defender }) => defender),
      row,
      branch,
      torn,
    ]),
    off,
    margin && [margin.by.defender, margin.seconds.toFixed(2)],
  ]);

/** Reactions that change nothing are told together, so that the table has a line for every answer. */
export function groupsOf(look: LookOnPage): Group[] {
  const groups = new Map<string, [Cell, ...Cell[]]>();
  for (const cell of look.cells) {
    const key = outcome(cell);
    const group = groups.get(key);
    if (group) group.push(cell);
    else groups.set(key, [cell]);
  }
  return [...groups].map(([key, cells]) => ({ key, cells }));
}

/** Looks with their lines; `onlyOff` leaves those in which somebody is off the page. */
export function linesOf(page: SamePage, onlyOff: boolean): { look: LookOnPage; groups: Group[] }[] {
  return page.looks
    .map((look) => ({
      look,
      groups: groupsOf(look).filter(({ cells }) => !onlyOff || cells[0].off.length > 0),
    }))
    .filter(({ groups }) => groups.length > 0);
}

export const offCount = ({ looks }: SamePage): number =>
  looks.flatMap(({ cells }) => cells).filter(({ off }) => off.length > 0).length;
