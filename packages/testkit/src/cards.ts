import type { Point } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import type {
  Branch,
  BranchId,
  CardHead,
  Condition,
  ReadCard,
  Row,
  RowId,
} from '@stemline/read-rules/card';
import { factNameSchema } from '@stemline/read-rules/fact-name';
import fc from 'fast-check';
import { id, text, yards } from './texts.ts';

export const point = (): fc.Arbitrary<Point> => fc.tuple(yards(-26, 26), yards(-10, 30));
const rowId = (): fc.Arbitrary<RowId> => id() as fc.Arbitrary<RowId>;
const branchId = (): fc.Arbitrary<BranchId> => id() as fc.Arbitrary<BranchId>;

const bound = (): fc.Arbitrary<{ at: number; closed: boolean } | null> =>
  fc.option(fc.record({ at: yards(-40, 40), closed: fc.boolean() }));
const fact = fc.constantFrom(...factNameSchema.options);

export const condition = (): fc.Arbitrary<Condition> =>
  fc.oneof(
    fc.record({ kind: fc.constant('range' as const), fact, from: bound(), to: bound() }),
    fc.record({ kind: fc.constant('is' as const), fact, value: fc.boolean() }),
    fc.record({
      kind: fc.constant('oneOf' as const),
      fact,
      values: fc.uniqueArray(text(30, 1), { minLength: 1, maxLength: 4 }),
    }),
  );

/** As a coach may leave it half-way: conditions may repeat or contradict, the branch may be missing. */
export const row = (branches: readonly BranchId[] = []): fc.Arbitrary<Row> =>
  fc.record({
    id: rowId(),
    conditions: fc.array(condition(), { maxLength: 4 }),
    branch: branches.length > 0 ? fc.oneof(fc.constantFrom(...branches), branchId()) : branchId(),
    says: text(60),
  });

const release = fc.record({
  side: fc.constantFrom('free' as const, 'inside' as const, 'outside' as const),
  hesitate: yards(0, 2),
});

export const branch = (players: readonly PlayerId[]): fc.Arbitrary<Branch> => {
  const name = text(12, 1);
  const route = fc.record({
    id: branchId(),
    name,
    kind: fc.constant('route' as const),
    finish: fc.oneof(
      fc.record({
        kind: fc.constantFrom('in' as const, 'out' as const),
        angle: yards(10, 170),
        run: yards(1, 40),
      }),
      fc.record({ kind: fc.constant('sit' as const) }),
      fc.record({ kind: fc.constant('on' as const), run: yards(1, 60) }),
      fc.record({
        kind: fc.constant('path' as const),
        points: fc.array(point(), { minLength: 1, maxLength: 5 }),
      }),
    ),
    release,
    decideBy: yards(0, 30),
    breakAt: fc.record({ from: yards(0, 40), to: yards(0, 40) }),
    eyes: yards(0, 2),
  });
  const block = fc.record({
    id: branchId(),
    name,
    kind: fc.constant('block' as const),
    what: text(60, 1),
  });
  if (players.length === 0) return fc.oneof(route, block);
  const target = fc.record({
    id: branchId(),
    name,
    kind: fc.constant('target' as const),
    player: fc.constantFrom(...players),
  });
  return fc.oneof({ weight: 3, arbitrary: route }, block, target);
};

export const cardHead = (
  players: readonly PlayerId[],
  branches: readonly BranchId[] = [],
): fc.Arbitrary<CardHead> => {
  const answer = branches.length > 0 ? fc.option(fc.constantFrom(...branches)) : fc.constant(null);
  return fc.record({
    title: text(40),
    key: fc.record({
      levels: fc.uniqueArray(
        fc.constantFrom('line' as const, 'second' as const, 'corner' as const, 'deep' as const),
        { minLength: 1 },
      ),
      maxDepth: yards(0, 40),
      over: players.length > 0 ? fc.option(fc.constantFrom(...players)) : fc.constant(null),
      direction: fc.constantFrom('inside' as const, 'outside' as const),
      reach: yards(0, 40),
      headUp: yards(0, 3),
      tie: yards(0, 3),
    }),
    sideMan: fc.record({ width: yards(0, 20), depth: yards(0, 20) }),
    policy: fc.constantFrom('first' as const, 'unique' as const),
    whenInDoubt: answer,
    noKey: answer,
  });
};

export const readCard = (player: PlayerId, players: readonly PlayerId[]): fc.Arbitrary<ReadCard> =>
  fc
    .uniqueArray(branch(players), { selector: (each) => each.id, maxLength: 4 })
    .chain((branches) => {
      const ids = branches.map((each) => each.id);
      return fc.record({
        player: fc.constant(player),
        head: cardHead(players, ids),
        rows: fc.uniqueArray(row(ids), { selector: (each) => each.id, maxLength: 5 }),
        branches: fc.constant(branches),
      });
    });
