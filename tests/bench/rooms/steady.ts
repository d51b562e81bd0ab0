import type { Home } from './home.ts';
import { boardState } from './home.ts';
import type { SteadyJob, SteadyResult } from './jobs.ts';
import { load } from './loader.ts';
import { postgresCpuMs } from './postgres-cost.ts';
import type { Side, SideName } from './sides.ts';
import { median, percentile } from './statistics.ts';

export interface Pace {
  rooms: number;
  perRoom: number;
  editsPerSecond: number;
  presencePerSecond: number;
  /** The same load unmeasured before it, milliseconds. */
  warmMs: number;
  measureMs: number;
}

/** One run's numbers. */
export interface Run {
  edit: Spread;
  presence: Spread;
  saved: Spread;
  commit: Spread;
  deliveredPerSecond: number;
  /** Of the server, microseconds a delivery. */
  cpuPerDelivery: number;
  /** Of the database besides. */
  databaseCpuPerDelivery: number;
  bytesPerEdit: number;
  /** Share of one core that the load took. */
  loadShare: number;
}

interface Spread {
  p50: number;
  p95: number;
  p99: number;
}

const spread = (values: readonly number[]): Spread => ({
  p50: percentile(values, 0.5),
  p95: percentile(values, 0.95),
  p99: percentile(values, 0.99),
});

let count = 0;

/** `commits`: bare commits of so many bytes, at the load's pace, beside it. */
export async function steadyRun(
  home: Home,
  side: Side,
  pace: Pace,
  commits: SteadyJob['commits'] = null,
): Promise<Run> {
  const isOurs = side.name === 'Stemline';
  count += 1;
  const rooms = isOurs
    ? await home.boards(pace.rooms)
    : Array.from({ length: pace.rooms }, (_, i) => `room-${count}-${i}`);
  let cpu = 0;
  let database = 0;
  const read = async (sign: 1 | -1): Promise<void> => {
    cpu += sign * (await side.cost()).cpuMs;
    database += sign * (await postgresCpuMs(home.dataDir));
  };
  const result = await load<SteadyResult>(
    {
      kind: 'steady',
      target: {
        dialect: side.dialect,
        url: side.url,
        ...(side.also ? { also: side.also } : {}),
        rooms,
        cookies: isOurs ? home.cookies : [],
        base: isOurs ? null : boardState(),
      },
      perRoom: pace.perRoom,
      editsPerSecond: pace.editsPerSecond,
      presencePerSecond: pace.presencePerSecond,
      warmMs: pace.warmMs,
      measureMs: pace.measureMs,
      commits,
    },
    { begins: () => read(-1), ends: () => read(1) },
  );
  const delivered = result.edits + result.presences;
  return {
    edit: spread(result.edit),
    presence: spread(result.presence),
    saved: spread(result.saved),
    commit: spread(result.commit),
    deliveredPerSecond: (delivered / result.ms) * 1000,
    cpuPerDelivery: (cpu * 1000) / delivered,
    databaseCpuPerDelivery: (database * 1000) / delivered,
    bytesPerEdit: result.changeBytes / result.edits,
    loadShare: result.cpuMs / result.ms,
  };
}

export type Runs = ReadonlyMap<SideName, readonly Run[]>;

/** The middle one of a number over the runs. */
export const middle = (runs: Runs, side: SideName, number: (run: Run) => number): number =>
  median((runs.get(side) ?? []).map(number));
