import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import { check } from '@stemline/read-rules/check';
import { onPlay } from '@stemline/read-rules/findings/on-play';
import { timing } from '@stemline/read-rules/findings/timing';
import { createRecheck } from '@stemline/read-rules/recheck/recheck';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { type Figure, lower } from '../figure.ts';
import { type Desk, edits } from './edits.ts';
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
  return [
    lower('full check of a play, 24 looks, median', quantile(all, 0.5), 'ms', 8),
    lower('full check of a play, 24 looks, p99', quantile(all, 0.99), 'ms', 16),
    ...[...times].flatMap(([{ name }, each]) => [
      lower(`full check of ${name}, median`, quantile(each, 0.5), 'ms', 8),
      lower(`full check of ${name}, p99`, quantile(each, 0.99), 'ms', 16),
    ]),
  ];
}

/** Another object throughout, as what comes from the room's document to the thread of checks is. */
const sent = (desk: Desk): Desk => structuredClone(desk);

/** The times of one kind of edit: each is made to the same play, checked before. */
function timesOf(play: RuledPlay, edit: (desk: Desk, i: number) => Desk, count: number): number[] {
  const recheck = createRecheck(shelf);
  const before: Desk = { play, shelf };
  const times: number[] = [];
  for (let i = 0; i < count; i++) {
    recheck.useShelf(sent(before).shelf);
    recheck.check(sent(before).play);
    const edited = edit(before, i + 1);
    const now = sent(edited);
    times.push(
      timed(() => {
        if (edited.shelf !== shelf) recheck.useShelf(now.shelf);
        recheck.check(now.play);
      }),
    );
  }
  return times;
}

/** One edit, re-checked: every kind on the richest play. Then the heap before and after ten thousand. */
export function rechecks(say: Say): readonly Figure[] {
  const kinds = Object.entries(edits);
  for (const [, edit] of kinds) timesOf(richest, edit, 40);
  const medians = kinds.map(([kind, edit]) => ({
    kind,
    median: quantile(timesOf(richest, edit, 100), 0.5),
  }));
  const worst = medians.reduce((a, b) => (b.median > a.median ? b : a));
  say(`slowest to re-check: ${worst.kind}`);
  return [
    lower(
      're-check after one edit, median of the kinds',
      quantile(
        medians.map(({ median }) => median),
        0.5,
      ),
      'ms',
      1,
    ),
    lower('re-check after one edit, worst kind, median', worst.median, 'ms', 1),
    ...medians.map(({ kind, median }) => lower(`re-check: ${kind}, median`, median, 'ms', 1)),
    heapGrowth(say),
  ];
}

/** Ten thousand re-checks of a small play, every kind of edit in turn. */
function heapGrowth(say: Say): Figure {
  setFlagsFromString('--expose-gc');
  const gc: () => void = runInNewContext('gc');
  const heap = (): number => {
    gc();
    return process.memoryUsage().heapUsed / 1e6;
  };
  const recheck = createRecheck(shelf);
  const all = Object.values(edits);
  const run = (from: number, count: number): void => {
    for (let i = from; i < from + count; i++) {
      const now = sent(
        all[i % all.length]?.({ play: smallest, shelf }, i) ?? { play: smallest, shelf },
      );
      recheck.useShelf(now.shelf);
      recheck.check(now.play);
    }
  };
  run(0, 400);
  const before = heap();
  run(400, 10_000);
  const after = heap();
  say(`heap ${before.toFixed(1)} MB before 10,000 re-checks, ${after.toFixed(1)} MB after`);
  return lower('heap growth over 10,000 re-checks', after - before, 'MB', 2);
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
