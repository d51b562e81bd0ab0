/**
 * Counts, by trying them all, what a card answers to every defence of a coarse grid: the key on each
 * half-yard of the scan and each yard of depth, doing each move toward each of four spots, with and
 * without a man on the other side. It asks `evaluate` alone; the prover has no part in it.
 *
 * `npx tsx tests/published/read-rules-counting.ts` prints what stands in `read-rules-counts.json`.
 */
import { pathToFileURL } from 'node:url';
import { ballX } from '@stemline/football/field';
import {
  type AlignedLook,
  alignedLookSchema,
  type Move,
  moveSchema,
} from '@stemline/football/look';
import { insideSign } from '@stemline/football/route';
import type { ReadCard } from '@stemline/read-rules/card';
import { type Evaluation, evaluate } from '@stemline/read-rules/evaluate';
import { scanStart } from '@stemline/read-rules/key';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { readPlay } from './read-rules-plays.ts';

export const counted = ['lantern', 'lantern-gap', 'lantern-clash', 'lantern-never-used'] as const;

type Point = readonly [number, number];

/** Where the key goes from where he stands: nowhere, inside, outside, back. Yards. */
const ways: readonly Point[] = [
  [0, 0],
  [4, 0],
  [-4, 0],
  [0, 6],
];

/** Every defence of the grid with what the card answers to it. */
export function* answers(play: RuledPlay, card: ReadCard): Generator<Evaluation> {
  const start = scanStart(play, card);
  if (!start) throw new Error('the scan starts over nobody');
  const inside = insideSign(start.at[0], ballX(play.situation));
  const { direction, reach, headUp, maxDepth } = card.head.key;
  const toward = direction === 'inside' ? 1 : -1;
  for (let along = -headUp; along <= reach; along += 0.5) {
    for (let depth = 1; depth <= maxDepth; depth++) {
      const at: Point = [start.at[0] + inside * toward * along, depth];
      for (const move of moveSchema.options) {
        for (const [x, y] of ways) {
          const to: Point = [at[0] + inside * x, at[1] + y];
          for (const hasOther of [false, true]) {
            const other: Point = [start.at[0] - inside * toward * 2, 5];
            yield evaluate(play, card, defence(at, move, to, hasOther ? other : null), {});
          }
        }
      }
    }
  }
}

const man = (id: string, at: Point, move: Move, to: Point) => ({
  id,
  label: id.toUpperCase(),
  level: 'second',
  at,
  reactions: [{ id: move, move, says: move, to }],
});

const defence = (at: Point, move: Move, to: Point, other: Point | null): AlignedLook =>
  alignedLookSchema.parse({
    id: 'grid',
    name: 'On the grid',
    traits: { front: 'even', shell: 'twoHigh', middle: 'open', coverage: 'zone' },
    defenders: [man('k', at, move, to), ...(other ? [man('o', other, 'sit', other)] : [])],
  });

/** What a defence counts as: the branch, or why there is none. */
export function kindOf({ row, fits, branch }: Evaluation): string {
  if (branch) return row === 'whenInDoubt' ? `in doubt ${branch.name}` : branch.name;
  return fits.length > 1 ? 'clash' : 'gap';
}

export function countsOf(play: RuledPlay): Record<string, Record<string, number>> {
  return Object.fromEntries(
    play.cards.map((card) => {
      const counts: Record<string, number> = {};
      for (const answer of answers(play, card)) {
        const kind = kindOf(answer);
        counts[kind] = (counts[kind] ?? 0) + 1;
      }
      return [card.player, Object.fromEntries(Object.entries(counts).sort())];
    }),
  );
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const counts = Object.fromEntries(counted.map((name) => [name, countsOf(readPlay(name))]));
  const provenance = 'counted by brute force, tests/published/read-rules-counting.ts';
  console.log(JSON.stringify({ provenance, counts }, null, 2));
}
