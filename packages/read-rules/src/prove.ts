import type { Play } from '@stemline/football/play';
import type { ReadCard, Row, RowId } from './card.ts';
import type { FactName } from './fact-name.ts';
import { type FactSpace, factSpaceIn } from './fact-space.ts';
import { type Setting, settingOf } from './facts/sighting.ts';
import { facts } from './facts.ts';
import { Effort } from './space/effort.ts';
import { type Can, hasCell, hull } from './space/hull.ts';
import { merge } from './space/merge.ts';
import { overlaps } from './space/overlaps.ts';
import { type Region, regionOf } from './space/region.ts';
import {
  type Box,
  meet,
  relation,
  sameBox,
  setColumns,
  type Table,
  tableOf,
} from './space/table.ts';
import { uncovered } from './space/uncovered.ts';
import { withinReach } from './within-reach.ts';

/** Rows that fit at once, and where: regions apart from each other, never none. */
export interface Overlap {
  readonly rows: readonly RowId[];
  readonly regions: readonly Region[];
  /** They all lead to the same branch. */
  readonly agree: boolean;
}

/** A row that never answers, and why. */
export interface NeverUsed {
  readonly row: RowId;
  readonly because: /** Nothing that a defence can show fits it. */
    | 'neverTrue'
    /** It asks for a formation, field position or down that this play is not drawn for. */
    | 'notOnThisPlay'
    /** Wherever it fits, the rows of `by` fit as well, and come first or share the answer. */
    | 'covered';
  readonly by: readonly RowId[];
}

/** What holds of a card over every defence that could stand and move, found by proof and not by trial. */
export interface Proof {
  /** Where no row fits; apart from each other, in one form. When in doubt is left out of account. */
  readonly gaps: readonly Region[];
  /** `unique` policy: where several rows fit. Empty under `first`, whose order settles them. */
  readonly overlaps: readonly Overlap[];
  readonly neverUsed: readonly NeverUsed[];
  /** False: the card was too tangled, and there may be more than is told. */
  readonly complete: boolean;
}

/**
 * Rows looked at after which a question is given up. Real cards need hundreds; a stress card of 1,500
 * rows a few million.
 */
const mostWork = 5_000_000;

/** Holes in pieces after which no more are looked for. Real cards have a few. */
const mostHoles = 4_000;

/** Disagreeing pairs told of a card that is too tangled for its groups. */
const mostPairs = 200;

/** `most` bounds the work of each of the three questions, see `Effort`; one that needs more is not complete. */
export const prove = (play: Play, card: ReadCard, most: number = mostWork): Proof =>
  proveIn(settingOf(play, card), card, most);

/** The same where what holds of the card on its play is known; null when nothing does. */
export function proveIn(setting: Setting | null, card: ReadCard, most: number = mostWork): Proof {
  const space = factSpaceIn(setting, card);
  const table = tableOf(space.axes, [...space.rows, ...space.barred]);
  const rows = card.rows.map((_, i) => i);
  const barred = space.barred.map((_, i) => card.rows.length + i);
  const can = space.setting && withinReach(space.setting, table, space.domainOf);
  const asked = (): Asked => ({
    card,
    space,
    table,
    barred,
    can,
    effort: new Effort(most),
    parts: new Effort(mostParts),
  });
  const [forGaps, forOverlaps, forUse] = [asked(), asked(), asked()];
  const holes = uncovered(table, table.all, [...rows, ...barred], forGaps.effort, mostHoles);
  return {
    gaps: shown(forGaps, merge(table, holes)).map((box) => regionOf(table, box)),
    overlaps: card.head.policy === 'unique' ? overlapsOf(forOverlaps, rows) : [],
    neverUsed: neverUsedOf(forUse, rows),
    complete:
      holes.length < mostHoles &&
      [forGaps, forOverlaps, forUse].every(({ effort }) => !effort.isSpent),
  };
}

interface Asked {
  readonly card: ReadCard;
  readonly space: FactSpace;
  readonly table: Table;
  readonly barred: readonly number[];
  /** What of the space a key can show; null where it does not hang on one. */
  readonly can: Can | null;
  readonly effort: Effort;
  /** What is left of `mostParts` for this question. */
  readonly parts: Effort;
}

/**
 * Parts of boxes looked at, in one question, to find what of them can be shown; real cards need tens to
 * hundreds. What lies past it counts as what can.
 */
const mostParts = 20_000;

/** A hole counts where any of it can be shown. */
const countsWith =
  (table: Table, can: Can | null, parts: Effort) =>
  (hole: Box): boolean =>
    !can || hasCell(table, hole, can, parts);

/** Each box drawn in to what of it can be shown; boxes of which nothing can are left out. */
const shown = ({ table, can, parts }: Asked, boxes: readonly Box[]): readonly Box[] =>
  can ? boxes.flatMap((box) => hull(table, box, can, parts) ?? []) : boxes;

interface Group {
  readonly rows: readonly number[];
  readonly box: Box;
}

/**
 * The largest groups of rows that fit at once, and every disagreeing pair that does so on more than
 * its group: a group of three may share a corner while two of them quarrel over half the field.
 */
function overlapsOf(asked: Asked, rows: readonly number[]): Overlap[] {
  const { card, table, barred, effort } = asked;
  const groups = overlaps(table, rows, barred, effort).flatMap((group) => groupOf(table, group));
  const pairs = widerPairs(asked, groups);
  const told = effort.isSpent ? somePairs(asked, rows) : [...groups, ...pairs];
  return told.flatMap(({ rows: group, box }) => {
    const regions = possibleIn({ ...asked, effort: new Effort(mostWork) }, box);
    if (regions.length === 0) return [];
    const members = group.map((i) => card.rows[i] as Row);
    return {
      rows: members.map(({ id }) => id),
      regions: regions.map((part) => regionOf(table, part)),
      agree: members.every(({ branch }) => branch === members[0]?.branch),
    };
  });
}

/** Disagreeing pairs that fit at once on more than any group they belong to. */
function widerPairs({ card, table, effort }: Asked, groups: readonly Group[]): Group[] {
  const wider = new Map<string, Group>();
  const told = new Set<string>();
  for (const { rows, box } of groups) {
    for (const [i, a] of rows.entries()) {
      for (const b of rows.slice(i + 1)) {
        if (card.rows[a]?.branch === card.rows[b]?.branch) continue;
        if (!effort.spend(1)) return [...wider.values()];
        const [pair] = groupOf(table, [a, b]);
        const key = `${a},${b}`;
        if (!pair || told.has(key)) continue;
        if (sameBox(pair.box, box)) {
          told.add(key);
          wider.delete(key);
        } else wider.set(key, pair);
      }
    }
  }
  return [...wider.values()];
}

/** What is told of a card too tangled for its groups: disagreeing pairs, found one by one. */
function somePairs({ card, table }: Asked, rows: readonly number[]): Group[] {
  const found: Group[] = [];
  for (const a of rows) {
    for (const b of rows.slice(a + 1)) {
      if (card.rows[a]?.branch !== card.rows[b]?.branch) found.push(...groupOf(table, [a, b]));
      if (found.length >= mostPairs) return found;
    }
  }
  return found;
}

/** A group with where all of it fits: one box, since each row is one. Nothing when they never do. */
function groupOf(table: Table, rows: readonly number[]): Group[] {
  const box = sharedBox(table, rows);
  return box ? [{ rows, box }] : [];
}

function sharedBox(table: Table, group: readonly number[]): Box | null {
  return group.reduce<Box | null>((shared, row) => {
    const box = table.rows[row];
    return shared && box ? meet(table, shared, box) : null;
  }, table.all);
}

/** What is left of a box when what no defence can show is taken out. */
const possibleIn = (asked: Asked, box: Box): readonly Box[] =>
  shown(asked, merge(asked.table, uncovered(asked.table, box, asked.barred, asked.effort)));

/**
 * `first`: a row is never used where earlier rows fit wherever it does. `unique`: where the others
 * together do; of rows that cover each other the last is told, then looked at no more.
 */
function neverUsedOf(asked: Asked, rows: readonly number[]): NeverUsed[] {
  const { card, table } = asked;
  const isFirst = card.head.policy === 'first';
  const dropped = new Set<number>();
  const found: NeverUsed[] = [];
  for (const i of [...rows].reverse()) {
    const row = card.rows[i] as Row;
    const box = table.rows[i] ?? null;
    if (!box || isHidden(asked, box, [])) {
      const because = comesUpElsewhere(asked, i) ? 'notOnThisPlay' : 'neverTrue';
      found.push({ row: row.id, because, by: [] });
      dropped.add(i);
      continue;
    }
    const others = rows.filter((other) =>
      isFirst ? other < i : other !== i && !dropped.has(other),
    );
    const near = reachingInto(table, box, others);
    if (near.length === 0 || !isHidden(asked, box, near)) continue;
    dropped.add(i);
    const by = neededToHide(asked, box, near).map((other) => (card.rows[other] as Row).id);
    found.push({ row: row.id, because: 'covered', by });
  }
  return found.reverse();
}

/** Proved, not given up: what ran out hides nothing. */
function isHidden(asked: Asked, box: Box, rows: readonly number[]): boolean {
  const { table, barred, can, effort, parts } = asked;
  const holes = uncovered(
    table,
    box,
    [...rows, ...barred],
    effort,
    1,
    countsWith(table, can, parts),
  );
  return holes.length === 0 && !effort.isSpent;
}

function reachingInto(table: Table, box: Box, rows: readonly number[]): number[] {
  const sets = setColumns(table);
  return rows.filter((row) => {
    const other = table.rows[row];
    return other && relation(sets, other, box) !== 'apart';
  });
}

/** The rows without which a box would show, later ones spared first; all of them when there are many. */
function neededToHide(asked: Asked, box: Box, rows: readonly number[]): readonly number[] {
  if (rows.length > 12) return rows;
  return [...rows].reverse().reduce<readonly number[]>((needed, row) => {
    const without = needed.filter((other) => other !== row);
    return isHidden(asked, box, without) ? without : needed;
  }, rows);
}

/** Whether a row fails only on what the play settles: on another formation, spot or down it would come up. */
function comesUpElsewhere({ space, effort, parts }: Asked, row: number): boolean {
  const asks = space.rows[row] ?? [];
  const free = asks.filter(
    ({ column }) => facts[space.names[column] as FactName].hangsOn !== 'play',
  );
  const table = tableOf(space.axes, [free, ...space.barred]);
  const box = table.rows[0];
  const barred = space.barred.map((_, i) => i + 1);
  const can = space.setting && withinReach(space.setting, table, space.domainOf, true);
  return (
    !!box && uncovered(table, box, barred, effort, 1, countsWith(table, can, parts)).length > 0
  );
}
