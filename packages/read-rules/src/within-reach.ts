import { needsKey } from './evaluate.ts';
import type { FactName } from './fact-name.ts';
import { type Either, type Picture, reachOf, type Span, step } from './facts/reach.ts';
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
    return (box) => ({ ...ends(column, at(box, 2 * c), at(box, 2 * c + 1)), asked: true });
  };
  const valuesOf = (name: FactName): ((box: Box) => readonly (boolean | string)[] | null) => {
    const c = columns.get(name);
    const column = c === undefined ? undefined : table.columns[c];
    if (c === undefined || column?.kind !== 'set') return () => null;
    return (box) => column.values.filter((_, i) => (at(box, 2 * c) & (1 << i)) !== 0);
  };
  const spans = {
    keyOffset: spanOf('keyOffset'),
    keyDepth: spanOf('keyDepth'),
    cushion: spanOf('cushion'),
    roomInside: spanOf('roomInside'),
    roomOutside: spanOf('roomOutside'),
    rushers: spanOf('rushers'),
  };
  const [moves, rushes, sides, leans] = [
    valuesOf('keyMove'),
    valuesOf('keyRushes'),
    valuesOf('manOutside'),
    valuesOf('mikeLean'),
  ];
  const pictureOf = (box: Box): Picture => {
    const [move, rush, side, lean] = [moves(box), rushes(box), sides(box), leans(box)];
    return {
      keyOffset: spans.keyOffset(box),
      keyDepth: spans.keyDepth(box),
      cushion: spans.cushion(box),
      roomInside: spans.roomInside(box),
      roomOutside: spans.roomOutside(box),
      rushers: spans.rushers(box),
      keyRushes: {
        yes: (move?.includes('rush') ?? true) && (rush?.includes(true) ?? true),
        no: (move?.some((one) => one !== 'rush') ?? true) && (rush?.includes(false) ?? true),
        asked: move !== null || rush !== null,
      },
      manOutside: eitherOf(side),
      mike: {
        balanced: lean?.includes('balanced') ?? true,
        there: lean?.some((one) => one !== 'none') ?? true,
        asked: lean !== null,
      },
    };
  };
  return {
    some: (box) => reach.canShow(pictureOf(box)),
    all: (box) => reach.canShowAll(pictureOf(box)),
    columns: together.flatMap((name) => columns.get(name) ?? []),
  };
}

const eitherOf = (values: readonly (boolean | string)[] | null): Either => ({
  yes: values?.includes(true) ?? true,
  no: values?.includes(false) ?? true,
  asked: values !== null,
});

/** The least and greatest value in a run of cells; an open end begins a step further. */
function ends(
  column: Exclude<Column, { kind: 'set' }>,
  lo: number,
  hi: number,
): { readonly from: number; readonly to: number } {
  if (column.kind === 'wholes') return { from: column.min + lo, to: column.min + hi };
  return {
    from: (column.points[lo >> 1] as number) + (lo % 2) * step,
    to: (column.points[(hi + 1) >> 1] as number) - (hi % 2) * step,
  };
}
