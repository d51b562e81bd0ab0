/**
 * What it costs to judge one update and to name its formation, beside the bare price of Yjs, and what a board weighs after
 * many edits: `npx tsx tests/bench/gate.ts`. Prints, asserts nothing.
 */
import { createBoardState } from '@stemline/board/create';
import { judge } from '@stemline/board/judge';
import { Shadow } from '@stemline/board/shadow';
import { formationName } from '@stemline/football/formation-name';
import type { BranchId, CardHead, Row, RowId } from '@stemline/read-rules/card';
import { asPlayerId, handPlay, handPlayers } from '@stemline/testkit/plays';
import { coachAt } from '@stemline/testkit/two-coaches';
import * as Y from 'yjs';

const moves = 5000;
const H = asPlayerId('H');
const head: CardHead = {
  title: '',
  key: {
    levels: ['line'],
    maxDepth: 7,
    over: null,
    direction: 'inside',
    reach: 6,
    headUp: 0.5,
    tie: 0.3,
  },
  sideMan: { width: 3, depth: 6 },
  policy: 'first',
  whenInDoubt: null,
  noKey: null,
};
const row = (i: number): Row => ({
  id: `r${i}` as RowId,
  conditions: [{ kind: 'is', fact: 'keyRushes', value: i % 2 === 0 }],
  branch: 'b' as BranchId,
  says: 'stay skinny',
});

/** A board with a card of `rows` rows for five players. */
const boardWith = (rows: number): Uint8Array =>
  createBoardState(
    handPlay({
      cards: handPlayers()
        .slice(0, 5)
        .map(({ id }) => ({
          player: id,
          head,
          rows: Array.from({ length: rows }, (_, i) => row(i)),
          branches: [],
        })),
    }),
  );

function movesOn(state: Uint8Array): { updates: Uint8Array[]; bytes: number } {
  const coach = coachAt(state, 101);
  const updates: Uint8Array[] = [];
  coach.ydoc.on('update', (update: Uint8Array) => updates.push(update));
  for (let i = 0; i < moves; i++) coach.movePlayer(H, [(i % 400) / 10 - 20, -1]);
  return { updates, bytes: Y.encodeStateAsUpdate(coach.ydoc).length };
}

/** Microseconds of the median run, which a busy machine disturbs least. */
function median(runs: readonly (() => void)[]): number {
  const times = runs.map((run) => {
    const start = performance.now();
    run();
    return performance.now() - start;
  });
  return Math.round((times.sort((a, b) => a - b)[times.length >> 1] ?? 0) * 10_000) / 10;
}

for (const rows of [6, 40, 200]) {
  const state = boardWith(rows);
  const { updates, bytes } = movesOn(state);
  const shadow = new Shadow(state);
  const plain = new Y.Doc();
  Y.applyUpdate(plain, state);
  const judged: (() => void)[] = [];
  const applied: (() => void)[] = [];
  const named: (() => void)[] = [];
  for (const update of updates) {
    judged.push(() => {
      judge({
        shadow,
        update,
        member: 'ann',
        clients: () => undefined,
        mayBring: () => 1,
        scope: { kind: 'all' },
      });
    });
    applied.push(() => Y.applyUpdate(plain, update));
    // What the book says of the board is made anew with every commit.
    named.push(() => {
      const { play } = shadow.projection.board;
      formationName({ ...play, players: [...play.players] });
    });
  }
  const rebuilt = Array.from({ length: 20 }, () => () => shadow.rebuild(state));
  console.log(
    [
      `${5 * rows} rows, ${Math.round(state.length / 1000)} kB:`,
      `one move judged ${median(judged)} µs, only applied ${median(applied)} µs,`,
      `its formation named ${median(named)} µs;`,
      `shadow rebuilt ${Math.round(median(rebuilt)) / 1000} ms;`,
      `${moves} moves add ${bytes - state.length} bytes`,
    ].join(' '),
  );
}
