import type { Mentions } from '@stemline/board/mentions';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { closedLengths, type Line, neededFor } from './closed-group.ts';

/** Brings one clock of one client id, and needs these others. */
function frame(id: number, clock: number, needs: readonly (readonly [number, number])[]): Mentions {
  return {
    brings: new Map([[id, [{ from: clock, to: clock + 1 }]]]),
    needs: new Map([...needs, [id, clock] as const]),
  };
}

const lineOf = (id: number, frames: readonly (Mentions | null)[]): Line => ({
  frames,
  mayBring: (clientId) => clientId === id,
});

const nothing = (): number => 0;

/** Whether so many frames of each line need nothing but what is among them: each clock is brought by one frame here. */
function isClosed(lines: readonly Line[], lengths: readonly number[]): boolean {
  const taken = lines.flatMap(({ frames }, at) => frames.slice(0, lengths[at]));
  const brought = new Set(
    lines.flatMap(({ frames, mayBring }, at) =>
      frames
        .slice(0, lengths[at])
        .flatMap((each) =>
          [...(each?.brings ?? [])].flatMap(([id, runs]) =>
            mayBring(id) ? runs.map(({ from }) => `${id}/${from}`) : [],
          ),
        ),
    ),
  );
  return taken.every(
    (each) =>
      each !== null &&
      [...each.needs].every(([id, clock]) =>
        Array.from({ length: clock + 1 }, (_, at) => at).every((at) => brought.has(`${id}/${at}`)),
      ),
  );
}

const three = [0, 1, 2] as const;

/** Three pages, each with up to three frames, which rest on any words of the others. */
const lines = fc
  .tuple(
    ...three.map(() =>
      fc.array(fc.array(fc.tuple(fc.nat(2), fc.nat(3)), { maxLength: 2 }), { maxLength: 3 }),
    ),
  )
  .map((made) =>
    made.map((frames, id) =>
      lineOf(
        id,
        frames.map((needs, clock) => {
          const others = needs.filter(([other]) => other !== id);
          // The later of two words of one page is what counts.
          return frame(
            id,
            clock,
            others.sort((a, b) => a[1] - b[1]),
          );
        }),
      ),
    ),
  );

function* choices(all: readonly Line[]): Generator<number[]> {
  const [a, b, c] = all.map(({ frames }) => frames.length) as [number, number, number];
  for (let i = 0; i <= a; i++)
    for (let j = 0; j <= b; j++) for (let k = 0; k <= c; k++) yield [i, j, k];
}

describe('which frames can be taken together', () => {
  it('as many of each line as can be, and of those no others than the first needs', () => {
    fc.assert(
      fc.property(lines, (all) => {
        const closed = [...choices(all)].filter((lengths) => isClosed(all, lengths));
        const most = three.map((at) => Math.max(...closed.map((lengths) => lengths[at] ?? 0)));
        const lengths = closedLengths(all, nothing);
        expect(lengths).toEqual(most);
        for (const first of three) {
          const with1 = closed.filter((each) => (each[first] ?? 0) > 0);
          const least = three.map((at) => Math.min(...with1.map((each) => each[at] ?? 0)));
          expect(neededFor(first, all, lengths, nothing)).toEqual(
            with1.length > 0 ? least : [0, 0, 0],
          );
        }
      }),
      { numRuns: 500 },
    );
  });

  it('nothing behind a frame that cannot be read, nor what nobody may bring', () => {
    const unread = lineOf(1, [frame(1, 0, []), null, frame(1, 1, [])]);
    const forged: Line = { ...lineOf(2, [frame(1, 1, [])]), mayBring: (id) => id === 2 };
    expect(closedLengths([unread, forged], nothing)).toEqual([1, 0]);
  });

  it('what rests on the board alone needs nobody', () => {
    const all = [lineOf(1, [frame(1, 5, [[2, 7]])]), lineOf(2, [frame(2, 8, [])])];
    const board = (id: number): number => (id === 1 ? 5 : 8);
    expect(neededFor(0, all, closedLengths(all, board), board)).toEqual([1, 0]);
  });
});
