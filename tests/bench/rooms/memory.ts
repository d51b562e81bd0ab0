import { type Figure, lower } from '../figure.ts';
import { boardState, type Home } from './home.ts';
import type { Target } from './jobs.ts';
import { load } from './loader.ts';
import { type Cost, type Side, type SideName, startSide } from './sides.ts';
import { median } from './statistics.ts';

const rooms = 400;
/** Open before those that are weighed: what all rooms share is made once, and is no room's. */
const roomsBefore = 200;
const sockets = 2000;
const visited = 1000;
/** So many thousands are visited, one after the other. */
const visits = 3;
/**
 * Idle means that nobody does anything, the server neither, and not that somebody has just come: each side is
 * given time to put away what it may, until it has done next to nothing for so long. Ours checks the rules of
 * every board that was opened, with pauses, puts it to rest (SPEC R89) and ends the threads of the check. Milliseconds.
 */
const quietMs = 20_000;
const lookEveryMs = 5_000;
/** Next to nothing: this share of a core. */
const quietShare = 0.02;
/** A side that never comes to rest is weighed as it is. */
const longestMs = 180_000;

interface Weight {
  perRoom: Cost;
  perSocket: Cost;
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

async function quiet(side: Side): Promise<void> {
  let before = await side.cost();
  let isQuietFor = 0;
  for (let waited = 0; isQuietFor < quietMs && waited < longestMs; waited += lookEveryMs) {
    await pause(lookEveryMs);
    const now = await side.cost();
    const isQuiet = now.cpuMs - before.cpuMs < quietShare * lookEveryMs;
    isQuietFor = isQuiet ? isQuietFor + lookEveryMs : 0;
    before = now;
  }
}

const each = (from: Cost, to: Cost, count: number): Cost => ({
  cpuMs: 0,
  rss: (to.rss - from.rss) / count,
  heap: (to.heap - from.heap) / count,
});

/**
 * What 400 rooms more weigh in a process that has 200 open, and 2,000 sockets, after a first round that
 * warms it up. What is resident moves by more than that from one minute to the next, as V8 gives pages
 * back: so the rooms are weighed twice, by turns.
 */
async function weigh(side: Side, target: Target): Promise<Weight> {
  const hold = async (some: readonly string[], count: number): Promise<Cost> => {
    let cost: Cost | null = null;
    await load(
      { kind: 'idle', target: { ...target, rooms: some }, sockets: count },
      {
        ready: async () => {
          await quiet(side);
          cost = await side.cost(true);
        },
      },
    );
    if (!cost) throw new Error('the load did not get ready');
    return cost;
  };
  await hold(target.rooms.slice(0, 20), sockets);
  const few = (turn: readonly string[]) => hold(turn.slice(0, roomsBefore), roomsBefore);
  const many = (turn: readonly string[]) => hold(turn, turn.length);
  // Others the second time: there are servers that keep a room whoever has left it.
  const first = target.rooms.slice(20, 20 + roomsBefore + rooms);
  const second = target.rooms.slice(20 + roomsBefore + rooms);
  // A room with one socket, three times as many, then three sockets in each: two steps, two unknowns.
  const once = each(await few(first), await many(first), rooms);
  const fewAgain = await few(second);
  const manyAgain = await many(second);
  const again = each(fewAgain, manyAgain, rooms);
  const full = await hold(second, sockets);
  const perSocket = each(manyAgain, full, sockets - second.length);
  return {
    perSocket,
    perRoom: {
      cpuMs: 0,
      rss: (once.rss + again.rss) / 2 - perSocket.rss,
      heap: (once.heap + again.heap) / 2 - perSocket.heap,
    },
  };
}

const startOf = (home: Home, name: SideName): Promise<Side> =>
  name === 'Stemline' ? home.start() : startSide(name);

export async function memoryFigures(
  home: Home,
  names: readonly SideName[],
  say: (sentence: string) => void,
): Promise<Figure[]> {
  const weights = new Map<SideName, Weight>();
  const boards = await home.boards(20 + 2 * (roomsBefore + rooms));
  for (const name of names) {
    const side = await startOf(home, name);
    try {
      const isOurs = name === 'Stemline';
      const target: Target = {
        dialect: side.dialect,
        url: side.url,
        rooms: isOurs ? boards : boards.map((_, i) => `idle-${i}`),
        cookies: isOurs ? home.cookies : [],
        base: isOurs ? null : boardState(),
      };
      const weight = await weigh(side, target);
      weights.set(name, weight);
      say(
        `${name}: ${(weight.perRoom.heap / 1024).toFixed(1)} KiB live a room, ${(weight.perSocket.heap / 1024).toFixed(1)} a socket; resident ${(weight.perRoom.rss / 1024).toFixed(1)} and ${(weight.perSocket.rss / 1024).toFixed(1)}`,
      );
    } finally {
      await side.stop();
    }
  }
  const figures: Figure[] = [];
  for (const what of ['perRoom', 'perSocket'] as const) {
    for (const kind of ['rss', 'heap'] as const) {
      const peers = (['websocket-server', 'hocuspocus'] as const).map(
        (name) => (weights.get(name)?.[what][kind] ?? Number.NaN) / 1024,
      );
      for (const [name, weight] of weights) {
        figures.push(
          lower(
            `idle, ${name}: ${kind === 'rss' ? 'resident' : 'live'} memory a ${what === 'perRoom' ? 'room' : 'socket'}`,
            weight[what][kind] / 1024,
            'KiB',
            name === 'Stemline' ? Math.min(...peers) : null,
          ),
        );
      }
    }
  }
  return [...figures, ...(await keptFigures(home, say))];
}

/**
 * What one more room leaves behind, from every look to every later one; the middle of these (Theil and Sen's slope)
 * is what is told. From one look to the next a process moves by a third of a megabyte up or down, which from the
 * first to the last it does but once.
 */
const growths = (looks: readonly Cost[]): Cost[] =>
  looks.flatMap((from, at) =>
    looks.slice(at + 1).map((to, later) => each(from, to, (later + 1) * visited)),
  );

/** Bytes a room that may remain of noise: the collector's own books grow a little. */
const nothing = 100;

/**
 * What 1,000 rooms leave behind when all have left and their time is over. As many others have come and
 * gone before them: what a process grows once, compiled code and tables as wide as its widest moment,
 * is not kept for a room.
 */
async function keptFigures(home: Home, say: (sentence: string) => void): Promise<Figure[]> {
  const boards = await home.boards((1 + visits) * visited);
  const side = await home.start();
  try {
    const visit = (some: readonly string[]): Promise<null> =>
      load({
        kind: 'visit',
        target: {
          dialect: side.dialect,
          url: side.url,
          rooms: some,
          cookies: home.cookies,
          base: null,
        },
      });
    /** What is live once it grows less no more: a busy machine is late with its unloading. */
    const atRest = async (): Promise<Cost> => {
      await pause(31_000);
      let last = await side.cost(true);
      for (let looks = 0; looks < 10; looks++) {
        await pause(3_000);
        const next = await side.cost(true);
        if (last.heap - next.heap < 20_000) return next;
        last = next;
      }
      return last;
    };
    await visit(boards.slice(0, visited));
    const looks = [await atRest()];
    for (let round = 1; round <= visits; round++) {
      await visit(boards.slice(round * visited, (round + 1) * visited));
      const [before, after] = [looks.at(-1), await atRest()];
      say(`1,000 rooms opened and closed: ${after.heap - (before?.heap ?? 0)} bytes more are live`);
      looks.push(after);
    }
    const kept = growths(looks);
    return [
      lower(
        '1,000 rooms opened and closed, Stemline: live memory kept a room',
        median(kept.map(({ heap }) => heap)),
        'bytes',
        nothing,
      ),
      lower(
        '1,000 rooms opened and closed, Stemline: resident memory kept a room',
        median(kept.map(({ rss }) => rss)),
        'bytes',
      ),
    ];
  } finally {
    await side.stop();
  }
}
