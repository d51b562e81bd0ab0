import { needsKey } from './evaluate.ts';
import type { FactName } from './fact-name.ts';
import { type Picture, reachOf, type Span, step } from './facts/reach.ts';
import type { Setting } from './facts/sighting.ts';
import type { Column, Domain } from './space/column.ts';
import type { Can } from './space/hull.ts';
import { at, type Box, type Table } from './space/table.ts';

/** The facts that hang together over where one man can be. */
const together = [
  'keyOffset',
  'keyDepth',
  'keyMove',
  'keyRushes',
  'cushion',
  'roomInside',
  'roomOutside',
  'rushers',
  'manOutside',
  'mikeLean',
] as const satisfies readonly FactName[];

/**
 * Which boxes of a card's space some key can show, standing where he may and going no further than
 * he can run. `domainOf` gives what a fact may be on this play when no row asks about it; `anySpot`
 * lets the play be run anywhere between the sidelines.
 */
export function withinReach(
  setting: Setting,
  table: Table,
  domainOf: (name: FactName) => Domain,
  anySpot = false,
): Can {
  const isAboutKey = table.columns.some(({ name }) => needsKey(name as FactName));
  const reach = reachOf(setting, { needsKey: isAboutKey, anySpot });
  const columns = new Map<FactName, number>(
    table.columns.map(({ name }, c) => [name as FactName, c]),
  );
  const spanOf = (name: FactName): ((box: Box) => Span) => {
    const c = columns.get(name);
    const column = c === undefined ? undefined : table.columns[c];
    if (c === undefined || !column || column.kind === 'set') {
      const domain = domainOf(name);
      const free = domain.kind === 'continuous' ? domain : { min: 0, max: 0 };
      const span: Span = { from: free.min, to: free.max, asked: false };
      return () => span;
    }
    return (box) => ends(column, at(box, 2 * c), at(box, 2 * c + 1));
  };
  /** Whether a box leaves any of these values of a fact; true for a fact that nobody asks about. */
  const leaves = (
    name: FactName,
    counts: (value: boolean | string) => boolean,
  ): ((box: Box) => boolean) => {
    const c = columns.get(name);
    const column = c === undefined ? undefined : table.columns[c];
    if (c === undefined || column?.kind !== 'set') return () => true;
    const bits = column.values.reduce(
      (mask, value, i) => (counts(value) ? mask | (1 << i) : mask),
      0,
    );
    return (box) => (at(box, 2 * c) & bits) !== 0;
  };
  const spans = {
    keyOffset: spanOf('keyOffset'),
    keyDepth: spanOf('keyDepth'),
    cushion: spanOf('cushion'),
    roomInside: spanOf('roomInside'),
    roomOutside: spanOf('roomOutside'),
    rushers: spanOf('rushers'),
  };
  const [movesToRush, movesElse, rushes, staysBack, hasSideMan, hasNone, isBalanced, hasMike] = [
    leaves('keyMove', (move) => move === 'rush'),
    leaves('keyMove', (move) => move !== 'rush'),
    leaves('keyRushes', (does) => does === true),
    leaves('keyRushes', (does) => does === false),
    leaves('manOutside', (is) => is === true),
    leaves('manOutside', (is) => is === false),
    leaves('mikeLean', (lean) => lean === 'balanced'),
    leaves('mikeLean', (lean) => lean !== 'none'),
  ];
  const [rushIsAsked, sideManIsAsked, mikeIsAsked] = [
    columns.has('keyMove') || columns.has('keyRushes'),
    columns.has('manOutside'),
    columns.has('mikeLean'),
  ];
  const pictureOf = (box: Box): Picture => ({
    keyOffset: spans.keyOffset(box),
    keyDepth: spans.keyDepth(box),
    cushion: spans.cushion(box),
    roomInside: spans.roomInside(box),
    roomOutside: spans.roomOutside(box),
    rushers: spans.rushers(box),
    keyRushes: {
      yes: movesToRush(box) && rushes(box),
      no: movesElse(box) && staysBack(box),
      asked: rushIsAsked,
    },
    manOutside: { yes: hasSideMan(box), no: hasNone(box), asked: sideManIsAsked },
    mike: { balanced: isBalanced(box), there: hasMike(box), asked: mikeIsAsked },
  });
  return {
    tell: (box) => {
      const picture = pictureOf(box);
      if (!reach.canShow(picture)) return 'none';
      return reach.canShowAll(picture) ? 'all' : 'some';
    },
    columns: together.flatMap((name) => columns.get(name) ?? []),
  };
}

/** The least and greatest value in a run of cells; an open end begins a step further. */
function ends(column: Exclude<Column, { kind: 'set' }>, lo: number, hi: number): Span {
  if (column.kind === 'wholes') return { from: column.min + lo, to: column.min + hi, asked: true };
  return {
    from: (column.points[lo >> 1] as number) + (lo % 2) * step,
    to: (column.points[(hi + 1) >> 1] as number) - (hi % 2) * step,
    asked: true,
  };
}
