import { type Mentions, type Run, reachOf } from '@stemline/board/mentions';

/** What somebody sent, frame by frame in order; null: it cannot be read. */
export interface Line {
  readonly frames: readonly (Mentions | null)[];
  /** Whether what he brings under a client id may count for its own: it is nobody else's. */
  readonly mayBring: (clientId: number) => boolean;
}

/** So many rounds at most: each leaves out what rests on what the last one left out. */
const maxRounds = 100;

/**
 * How many frames of each line can be taken together because nothing in them needs what neither the board nor one
 * of them has from whoever may bring it. Of each line it is as much as can be. `reached`: clocks of a client id
 * that the board has.
 */
export function closedLengths(
  lines: readonly Line[],
  reached: (clientId: number) => number,
): number[] {
  const lengths = lines.map(({ frames }) => frames.length);
  for (let round = 0; round < maxRounds; round++) {
    const reach = reachWith(lines, lengths, reached);
    let isClosed = true;
    for (const [at, { frames }] of lines.entries()) {
      const fits = frames
        .slice(0, lengths[at])
        .findIndex((frame) => !frame || [...frame.needs].some(([id, clock]) => clock >= reach(id)));
      if (fits === -1) continue;
      lengths[at] = fits;
      isClosed = false;
    }
    if (isClosed) return lengths;
  }
  return lines.map(() => 0);
}

/** Up to which clock of each client id the board would have all, with so many frames of each line. */
function reachWith(
  lines: readonly Line[],
  lengths: readonly number[],
  reached: (clientId: number) => number,
): (clientId: number) => number {
  const brought = new Map<number, Run[]>();
  for (const [at, { frames, mayBring }] of lines.entries()) {
    for (const frame of frames.slice(0, lengths[at])) {
      for (const [id, runs] of frame?.brings ?? []) {
        if (mayBring(id)) brought.set(id, [...(brought.get(id) ?? []), ...runs]);
      }
    }
  }
  const known = new Map<number, number>();
  return (id) => {
    let reach = known.get(id);
    if (reach === undefined) {
      const runs = (brought.get(id) ?? []).sort((a, b) => a.from - b.from);
      reach = reachOf(reached(id), runs);
      known.set(id, reach);
    }
    return reach;
  };
}

/**
 * Of a closed group as little as the first frame of one line needs, frames of other lines before which others come
 * with those. `lengths` as `closedLengths` gives them; 0 for lines that are not needed.
 */
export function neededFor(
  first: number,
  lines: readonly Line[],
  lengths: readonly number[],
  reached: (clientId: number) => number,
): number[] {
  const needed = lines.map(() => 0);
  const due: [line: number, length: number][] = [[first, Math.min(1, lengths[first] ?? 0)]];
  for (let next = due.pop(); next; next = due.pop()) {
    const [at, length] = next;
    const from = needed[at] ?? 0;
    if (length <= from) continue;
    needed[at] = length;
    for (const frame of lines[at]?.frames.slice(from, length) ?? []) {
      for (const [id, clock] of frame?.needs ?? []) {
        if (clock < reached(id)) continue;
        for (const [other, line] of lines.entries())
          due.push([other, lengthBringing(line, lengths[other] ?? 0, id, clock)]);
      }
    }
  }
  return needed;
}

/** How many of the first `length` frames hold all that the line brings of a client id up to a clock. */
function lengthBringing(
  { frames, mayBring }: Line,
  length: number,
  clientId: number,
  clock: number,
): number {
  if (!mayBring(clientId)) return 0;
  const brings = (frame: Mentions | null): boolean =>
    (frame?.brings.get(clientId) ?? []).some(({ from }) => from <= clock);
  return frames.slice(0, length).findLastIndex(brings) + 1;
}
