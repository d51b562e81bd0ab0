import { Gate } from '@stemline/testkit/gate';
import { asPlayerId, handPlay, handPlayers } from '@stemline/testkit/plays';
import { coachAt } from '@stemline/testkit/two-coaches';
import { bench, describe } from 'vitest';
import * as Y from 'yjs';
import { createBoardState } from './create.ts';
import { judge } from './judge.ts';
import { Shadow } from './shadow.ts';

// The parts of a judgement, beside the bare price of Yjs: run with `npx vitest bench packages/board`.

const H = asPlayerId('H');
const row = (i: number) => ({
  id: `r${i}` as never,
  conditions: [{ kind: 'is' as const, fact: 'keyRushes' as const, value: i % 2 === 0 }],
  branch: 'b' as never,
  says: 'stay skinny',
});

/** A board with a card of `rows` rows for five players, and updates that each move a player. */
function longLived(rows: number): { state: Uint8Array; moves: Uint8Array[] } {
  const head = {
    title: '',
    key: {
      levels: ['line' as const],
      maxDepth: 7,
      over: null,
      direction: 'inside' as const,
      reach: 6,
      headUp: 0.5,
      tie: 0.3,
    },
    sideMan: { width: 3, depth: 6 },
    policy: 'first' as const,
    whenInDoubt: null,
    noKey: null,
  };
  const cards = handPlayers()
    .slice(0, 5)
    .map(({ id }) => ({
      player: id,
      head,
      rows: Array.from({ length: rows }, (_, i) => row(i)),
      branches: [],
    }));
  const state = createBoardState(handPlay({ cards }));
  const coach = coachAt(state, 101);
  const moves: Uint8Array[] = [];
  coach.ydoc.on('update', (update: Uint8Array) => moves.push(update));
  for (let i = 0; i < 20_000; i++) coach.movePlayer(H, [(i % 400) / 10 - 20, -1]);
  return { state, moves };
}

for (const rows of [6, 200]) {
  describe(`one move, cards of ${rows} rows`, () => {
    const { state, moves } = longLived(rows);
    const shadow = new Shadow(state);
    const plain = new Y.Doc();
    Y.applyUpdate(plain, state);
    let judged = 0;
    let applied = 0;
    const clients = (): undefined => undefined;
    bench(
      'judged on the long-lived shadow',
      () => {
        const update = moves[judged % moves.length] as Uint8Array;
        judged += 1;
        judge({ shadow, update, member: 'ann', clients, scope: { kind: 'all' } });
      },
      { iterations: 15_000, time: 0, warmupIterations: 500, warmupTime: 0 },
    );
    bench(
      'applied to a document, nothing judged',
      () => {
        Y.applyUpdate(plain, moves[applied % moves.length] as Uint8Array);
        applied += 1;
      },
      { iterations: 15_000, time: 0, warmupIterations: 500, warmupTime: 0 },
    );
    bench(
      'refused, the shadow rebuilt',
      () => {
        new Gate(state).offer('eve', moves[5] as Uint8Array);
      },
      { iterations: 50, time: 0, warmupIterations: 2, warmupTime: 0 },
    );
  });
}
