import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import type { Row } from '@stemline/read-rules/card';
import { check } from '@stemline/read-rules/check';
import { onPlay } from '@stemline/read-rules/findings/on-play';
import { timing } from '@stemline/read-rules/findings/timing';
import { createRecheck } from '@stemline/read-rules/recheck/recheck';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { type Figure, lower } from '../figure.ts';
import { exponent, quantile, quickest, type Say, timed } from './measure.ts';
import { moved, plays, richest, smallest } from './plays.ts';

/** As many looks as the goals are stated for. */
const shelf = builtInLooks.slice(0, 24);

/** Every play once more after a man was moved, again and again: nothing is known of any from before. */
export function checks(say: Say): readonly Figure[] {
  for (let i = 0; i < 60; i++) for (const play of plays) check(moved(play, i), shelf);
  const times = new Map<RuledPlay, number[]>(plays.map((play) => [play, []]));
  for (let i = 0; i < 200; i++)
    for (const play of plays) {
      const now = moved(play, i);
      times.get(play)?.push(timed(() => check(now, shelf)));
    }
  for (const [play, each] of times) {
    const kinds = check(play, shelf).map(({ kind }) => kind);
    const found = kinds.length > 0 ? kinds.join(', ') : 'nothing found';
    say(`${play.name}: median ${quantile(each, 0.5).toFixed(2)} ms, ${found}`);
  }
  const all = [...times.values()].flat();
  const rich = times.get(richest) ?? [];
  return [
    lower('full check of a play, 24 looks, median', quantile(all, 0.5), 'ms', 8),
    lower('full check of a play, 24 looks, p99', quantile(all, 0.99), 'ms', 16),
    lower(`full check of ${richest.name}, median`, quantile(rich, 0.5), 'ms', 8),
    lower(`full check of ${richest.name}, p99`, quantile(rich, 0.99), 'ms', 16),
  ];
}

/** Edits as a coach makes them, each of another kind. */
const edits: Readonly<Record<string, (play: RuledPlay, i: number) => RuledPlay>> = {
  'a word on a row': (play, i) =>
    withRows(play, ([row, ...rows]) => row && [{ ...row, says: `as taught ${i}` }, ...rows]),
  'the order of the rows': (play) => withRows(play, ([row, ...rows]) => row && [...rows, row]),
  'the name of the play': (play, i) => ({ ...play, name: `Play ${i}` }),
  'a man moved': (play, i) => moved(play, i),
};

function withRows(
  play: RuledPlay,
  change: (rows: readonly Row[]) => readonly Row[] | undefined,
): RuledPlay {
  const [card, ...others] = play.cards;
  const rows = card && change(card.rows);
  return card && rows ? { ...play, cards: [{ ...card, rows }, ...others] } : play;
}

/** One edit after another on one play, each re-checked; the heap before and after ten thousand. */
export function rechecks(say: Say): readonly Figure[] {
  setFlagsFromString('--expose-gc');
  const gc: () => void = runInNewContext('gc');
  const heap = (): number => {
    gc();
    return process.memoryUsage().heapUsed / 1e6;
  };
  const kinds = Object.keys(edits);
  const times = new Map<string, number[]>();
  const run = (play: RuledPlay, count: number): void => {
    const one = createRecheck(shelf);
    for (let i = 0; i < count; i++) {
      const kind = kinds[i % kinds.length] ?? '';
      const before = moved(play, i - (i % kinds.length));
      one.check(before);
      const now = edits[kind]?.(before, i + 1) ?? before;
      const ms = timed(() => one.check(now));
      times.set(kind, [...(times.get(kind) ?? []), ms]);
    }
  };
  run(richest, 100);
  times.clear();
  run(richest, 400);
  const all = [...times.values()].flat();
  const figures = [...times].map(([kind, each]) =>
    lower(`re-check: ${kind}, median`, quantile(each, 0.5), 'ms'),
  );
  times.clear();
  // The heap is watched on a small play, which is re-checked ten thousand times in no time.
  run(smallest, 200);
  times.clear();
  const before = heap();
  run(smallest, 5_000);
  times.clear();
  const after = heap();
  say(`heap ${before.toFixed(1)} MB before 10,000 re-checks, ${after.toFixed(1)} MB after`);
  return [
    lower('re-check after one edit, median', quantile(all, 0.5), 'ms', 1),
    ...figures,
    lower('heap growth over 10,000 re-checks', after - before, 'MB', 2),
  ];
}

/** The clock of the throws alone, which is most of a full check. */
export function throws(): readonly Figure[] {
  const on = plays.map((play) => ({ play, looks: shelf.map((recipe) => alignLook(recipe, play)) }));
  const times = Array.from({ length: 100 }, () =>
    on.map((one) => timed(() => timing(onPlay(one.play, one.looks)))),
  ).flat();
  return [lower('timing and undercut of a play, median', quantile(times, 0.5), 'ms')];
}

/** A book of so many plays: the demo's, each moved a little, none like another. */
const bookOf = (size: number): RuledPlay[] =>
  Array.from({ length: size }, (_, i) =>
    moved(plays[i % plays.length] as RuledPlay, Math.floor(i / plays.length)),
  );

export function wholeBook(say: Say): readonly Figure[] {
  const cost = (size: number, looks: number): number =>
    quickest(3, () => {
      for (const play of bookOf(size)) check(play, shelf.slice(0, looks));
    });
  const sizes = [75, 150, 300];
  const bySize = sizes.map((size) => cost(size, 24));
  say(`plays: ${sizes.map((n, i) => `${n} in ${bySize[i]?.toFixed(0)} ms`).join(', ')}`);
  const counts = [6, 12, 24];
  const byLooks = counts.map((looks) => cost(100, looks));
  say(
    `100 plays, looks: ${counts.map((n, i) => `${n} in ${byLooks[i]?.toFixed(0)} ms`).join(', ')}`,
  );
  return [
    lower('book of 300 plays × 24 looks', (bySize[2] ?? Number.NaN) / 1000, 's', 2),
    lower('book grows with plays', exponent(sizes, bySize), 'exponent', 1.15),
    lower('book grows with looks', exponent(counts, byLooks), 'exponent', 1.15),
  ];
}
