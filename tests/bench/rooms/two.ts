import { availableParallelism } from 'node:os';
import { startRedis } from '../../../apps/server/src/cluster/redis.ts';
import { type Figure, higher } from '../figure.ts';
import type { Home } from './home.ts';
import type { Cost, Side } from './sides.ts';
import { median } from './statistics.ts';
import { type Pace, type Run, steadyRun } from './steady.ts';
import { warmUp } from './warm-up.ts';

/** For each server: boards of four editors who draw and point. */
const pace: Pace = {
  rooms: 12,
  perRoom: 4,
  editsPerSecond: 2,
  presencePerSecond: 5,
  warmMs: 1500,
  measureMs: 6000,
};
const runs = 3;
/** Of two servers' worth, with a board's sockets kept at one, as by the proxy of docker-compose.yml. */
const goal = 1.7;

/**
 * Two servers with Redis beside one that has half their load: what a delivery costs depends on how busy a
 * process is, and each is to be as busy as the one. Reckoned from processor time, since the load takes as
 * much of this machine as the servers do: throughput itself shows it only where there are cores to spare.
 */
export async function twoFigures(home: Home, say: (sentence: string) => void): Promise<Figure[]> {
  const redis = await startRedis();
  const servers: Side[] = [];
  try {
    const alone = await home.start();
    servers.push(alone);
    const pair = await Promise.all([1, 2].map(() => home.start({ REDIS_URL: redis.url })));
    servers.push(...pair);
    const ways = [
      { name: 'one server', side: alone, servers: 1, found: [] as Run[] },
      { name: 'two, a board at one', side: together(pair, 'room'), servers: 2, found: [] as Run[] },
      {
        name: 'two, a board at both',
        side: together(pair, 'client'),
        servers: 2,
        found: [] as Run[],
      },
    ];
    await warmUp(home, servers);
    for (let run = 0; run < runs; run++) {
      for (const { name, side, servers: count, found } of ways) {
        const measured = await steadyRun(home, side, { ...pace, rooms: pace.rooms * count });
        say(
          `${name}: ${measured.cpuPerDelivery.toFixed(0)} µs a delivery, edit p95 ${measured.edit.p95.toFixed(1)} ms, ${measured.deliveredPerSecond.toFixed(0)} deliveries/s`,
        );
        found.push(measured);
      }
    }
    const [cpuOne = 0, cpuKept = 0, cpuSpread = 0] = ways.map(({ found }) =>
      median(found.map(({ cpuPerDelivery }) => cpuPerDelivery)),
    );
    const share = median(ways.flatMap(({ found }) => found.map(({ loadShare }) => loadShare)));
    say(
      `the load takes ${(share * 100).toFixed(0)} % of a core, and this machine has ${availableParallelism()} cores: ` +
        'the figures are 2 × processor time a delivery of one server / of two (without Redis and PostgreSQL), not throughput',
    );
    const beside = 'two servers with Redis beside one, by processor time';
    return [
      higher(`${beside}, a board at one of them`, (2 * cpuOne) / cpuKept, '×', goal),
      higher(`${beside}, half of every board at each`, (2 * cpuOne) / cpuSpread, '×'),
      higher('two servers: core taken by the load itself', share, 'cores'),
    ];
  } finally {
    await Promise.all(servers.map((side) => side.stop()));
    await redis.stop();
  }
}

/** Several servers as one side: their costs summed. */
function together(all: readonly Side[], by: 'room' | 'client'): Side {
  const [first, ...others] = all;
  if (!first) throw new Error('a side has a server');
  return {
    ...first,
    also: { urls: others.map(({ url }) => url), by },
    async cost(collect): Promise<Cost> {
      const costs = await Promise.all(all.map((side) => side.cost(collect)));
      const sum = (of: (cost: Cost) => number): number =>
        costs.reduce((total, cost) => total + of(cost), 0);
      return {
        cpuMs: sum(({ cpuMs }) => cpuMs),
        rss: sum(({ rss }) => rss),
        heap: sum(({ heap }) => heap),
      };
    },
  };
}
