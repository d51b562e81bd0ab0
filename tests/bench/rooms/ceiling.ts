import { type Figure, higher } from '../figure.ts';
import type { Home } from './home.ts';
import type { Side } from './sides.ts';
import { median } from './statistics.ts';
import { steadyRun } from './steady.ts';

/** Edits a second of each of the forty, step by step. */
const steps = [1, 2, 4, 8, 12, 18, 27];
const enough = 100;

/** The most that one room of forty delivers in a second with p95 under 100 ms. */
async function ceilingOf(
  home: Home,
  side: Side,
): Promise<{ delivered: number; edits: number; load: number }> {
  let best = { delivered: 0, edits: 0, load: 0 };
  let failed = 0;
  for (const editsPerSecond of steps) {
    const run = await steadyRun(home, side, {
      rooms: 1,
      perRoom: 40,
      editsPerSecond,
      presencePerSecond: 15,
      warmMs: 1500,
      measureMs: 2500,
    });
    if (!(run.edit.p95 < enough && run.presence.p95 < enough)) {
      // One step may have met with somebody else's work on this machine.
      failed += 1;
      if (failed === 2) break;
      continue;
    }
    if (run.deliveredPerSecond > best.delivered)
      best = { delivered: run.deliveredPerSecond, edits: editsPerSecond, load: run.loadShare };
  }
  return best;
}

export async function ceilingFigures(
  home: Home,
  sides: readonly Side[],
  { runs, say }: { runs: number; say: (sentence: string) => void },
): Promise<Figure[]> {
  const all = sides.map((side) => ({ side, found: [] as Awaited<ReturnType<typeof ceilingOf>>[] }));
  for (let run = 0; run < runs; run++) {
    for (const { side, found } of all) {
      const ceiling = await ceilingOf(home, side);
      found.push(ceiling);
      say(
        `${side.name}: ${ceiling.delivered.toFixed(0)} deliveries/s at ${ceiling.edits} edits/s each; load ${(ceiling.load * 100).toFixed(0)} % of a core`,
      );
    }
  }
  const middleOf = (name: string): number =>
    median(
      all.find(({ side }) => side.name === name)?.found.map(({ delivered }) => delivered) ?? [],
    );
  const goal = Math.max(middleOf('websocket-server'), middleOf('hocuspocus'));
  return all.flatMap(({ side: { name }, found }) => [
    higher(
      `one room of 40, ${name}: deliveries a second with p95 under 100 ms`,
      middleOf(name),
      '/s',
      name === 'Stemline' ? goal : null,
    ),
    higher(
      `one room of 40, ${name}: edits a second of each at that point`,
      median(found.map(({ edits }) => edits)),
      '/s',
    ),
    higher(
      `one room of 40, ${name}: core taken by the load itself`,
      median(found.map(({ load }) => load)),
      'cores',
    ),
  ]);
}
