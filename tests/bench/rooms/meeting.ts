import { type Figure, lower } from '../figure.ts';
import type { Home } from './home.ts';
import type { Side, SideName } from './sides.ts';
import { middle, type Pace, type Run, type Runs, steadyRun } from './steady.ts';
import { warmUp } from './warm-up.ts';

/** Twelve coaches on one board: two gestures a second each, pointing all the while. */
export const meetingPace: Pace = {
  rooms: 1,
  perRoom: 12,
  editsPerSecond: 2,
  presencePerSecond: 15,
  // A meeting lasts. V8 drops what it compiled while the other sides have their turn, and has most of it again by then.
  warmMs: 20_000,
  measureMs: 8000,
};

/** Two hundred boards with four editors each. */
export const leaguePace: Pace = {
  rooms: 200,
  perRoom: 4,
  editsPerSecond: 2,
  presencePerSecond: 0,
  warmMs: 1500,
  measureMs: 8000,
};

/** What one edit of these loads weighs as an update, bytes; the bare commit writes as many. */
const editBytes = 60;

/** The sides in turn, several times over, so that the machine's moods fall on all alike. */
export async function interleaved(
  home: Home,
  sides: readonly Side[],
  pace: Pace,
  { runs, say }: { runs: number; say: (sentence: string) => void },
): Promise<Runs> {
  const all = new Map<SideName, Run[]>(sides.map(({ name }) => [name, []]));
  await warmUp(home, sides);
  for (let run = 0; run < runs; run++) {
    for (const side of sides) {
      const commits =
        side.name === 'relay' ? { url: home.databaseUrl, perSecond: 24, bytes: editBytes } : null;
      const measured = await steadyRun(home, side, pace, commits);
      all.get(side.name)?.push(measured);
      say(
        `${side.name}: edit p95 ${measured.edit.p95.toFixed(1)} ms, ${measured.deliveredPerSecond.toFixed(0)} deliveries/s, ${measured.cpuPerDelivery.toFixed(1)} µs each; load ${(measured.loadShare * 100).toFixed(0)} % of a core`,
      );
    }
  }
  return all;
}

/** Figures of a load; the goals are Stemline's, set beside the others of the same runs. */
export function loadFigures(
  load: string,
  runs: Runs,
  { goals, pace }: { goals: boolean; pace: Pace },
): Figure[] {
  const figures: Figure[] = [];
  const mid = (side: SideName, number: (run: Run) => number): number => middle(runs, side, number);
  const commit = mid('relay', ({ commit: { p95 } }) => p95);
  const editGoal = 1.25 * (mid('relay', ({ edit: { p95 } }) => p95) + commit);
  const presenceGoal = 1.5 * mid('relay', ({ presence: { p95 } }) => p95);
  const cpuGoal = Math.min(
    mid('websocket-server', ({ cpuPerDelivery }) => cpuPerDelivery),
    mid('hocuspocus', ({ cpuPerDelivery }) => cpuPerDelivery),
  );
  for (const side of runs.keys()) {
    const isOurs = side === 'Stemline';
    const asked = (goal: number): number | null => (isOurs && goals ? goal : null);
    for (const p of ['p50', 'p95', 'p99'] as const) {
      figures.push(
        lower(
          `${load}, ${side}: edit to visible ${p}`,
          mid(side, (run) => run.edit[p]),
          'ms',
          p === 'p95' ? asked(editGoal) : null,
        ),
      );
      if (pace.presencePerSecond > 0)
        figures.push(
          lower(
            `${load}, ${side}: presence to visible ${p}`,
            mid(side, (run) => run.presence[p]),
            'ms',
            p === 'p95' ? asked(presenceGoal) : null,
          ),
        );
      if (isOurs)
        figures.push(
          lower(
            `${load}, ${side}: edit to saved ${p}`,
            mid(side, (run) => run.saved[p]),
            'ms',
            p === 'p95' ? asked(50) : null,
          ),
        );
    }
    figures.push(
      lower(
        `${load}, ${side}: server CPU a delivery`,
        mid(side, ({ cpuPerDelivery }) => cpuPerDelivery),
        'µs',
        isOurs ? cpuGoal : null,
      ),
      lower(
        `${load}, ${side}: wire bytes an edit`,
        mid(side, ({ bytesPerEdit }) => bytesPerEdit),
        'bytes',
      ),
      lower(
        `${load}, ${side}: core taken by the load itself`,
        mid(side, ({ loadShare }) => loadShare),
        'cores',
      ),
    );
    if (isOurs)
      figures.push(
        lower(
          `${load}, ${side}: PostgreSQL CPU a delivery`,
          mid(side, (run) => run.databaseCpuPerDelivery),
          'µs',
        ),
      );
  }
  for (const p of ['p50', 'p95', 'p99'] as const)
    figures.push(
      lower(
        `${load}: one bare commit ${p}`,
        mid('relay', ({ commit: at }) => at[p]),
        'ms',
      ),
    );
  return figures;
}
