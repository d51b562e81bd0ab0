/** The load, in a process of its own: does one job that it is sent, and answers what it measured. */
import pg from 'pg';
import * as Y from 'yjs';
import { Client } from './client.ts';
import { gesturesFrom, write } from './gestures.ts';
import type {
  FromLoad,
  HistoryJob,
  HistoryResult,
  IdleJob,
  Job,
  JoinJob,
  JoinResult,
  SeedJob,
  SteadyJob,
  SteadyResult,
  Target,
  ToLoad,
  VisitJob,
} from './jobs.ts';
import { randomFrom } from './statistics.ts';

const tell = (message: FromLoad): void => {
  process.send?.(message);
};
let go: () => void = () => undefined;
/** Says so, and waits until the other side has read the server's costs. */
const agree = (said: 'begins' | 'ends' | 'ready'): Promise<void> =>
  new Promise((resolve) => {
    go = resolve;
    tell({ said });
  });
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

function clientOf(
  { dialect, url, also, rooms, cookies, base }: Target,
  number: number,
  room: number,
  hear: Partial<ConstructorParameters<typeof Client>[0]> = {},
): Client {
  const urls = [url, ...(also?.urls ?? [])];
  return new Client({
    dialect,
    url: urls[(also?.by === 'room' ? room : number) % urls.length] ?? url,
    room: rooms[room] ?? '',
    cookie: cookies[number % cookies.length] ?? null,
    base,
    ...hear,
  });
}

/** Opens a few at a time, as people come. */
async function openAll(clients: readonly (() => Client)[]): Promise<Client[]> {
  const open: Client[] = [];
  for (let i = 0; i < clients.length; i += 20) {
    const some = clients.slice(i, i + 20).map((make) => make());
    await Promise.all(some.map(({ synced }) => synced));
    open.push(...some);
  }
  return open;
}

/** Puts the board into rooms of a server that does not store it. */
function seed({ dialect, base, rooms }: Target, clients: readonly Client[], perRoom: number): void {
  if (!base || dialect === 'blind') return;
  for (let room = 0; room < rooms.length; room++) {
    const first = clients[room * perRoom];
    if (first) Y.applyUpdate(first.ydoc, base, 'the board');
  }
}

/** What one client wrote: the clock after each write, and when. */
interface Written {
  clocks: number[];
  times: number[];
  saved: number;
}

async function steady(job: SteadyJob): Promise<SteadyResult> {
  const { target, perRoom, editsPerSecond, presencePerSecond, warmMs, measureMs } = job;
  const result: SteadyResult = {
    edit: [],
    presence: [],
    saved: [],
    commit: [],
    edits: 0,
    presences: 0,
    changeBytes: 0,
    cpuMs: 0,
    ms: 0,
  };
  let measuring = false;
  const written = new Map<number, Written>();
  const pointed = new Map<string, number[]>();

  const seesEdits = () => {
    const read = new Map<number, number>();
    return (seen: Y.Transaction): void => {
      if (seen.local) return;
      const now = performance.now();
      for (const [id, clock] of seen.afterState) {
        if (seen.beforeState.get(id) === clock) continue;
        const by = written.get(id);
        if (!by) continue;
        let at = read.get(id) ?? 0;
        while (at < by.clocks.length && (by.clocks[at] ?? 0) <= clock) {
          if (measuring) result.edit.push(now - (by.times[at] ?? now));
          at += 1;
        }
        read.set(id, at);
      }
    };
  };
  const onPresence = (from: string, number: number): void => {
    if (measuring) result.presence.push(performance.now() - (pointed.get(from)?.[number] ?? 0));
  };

  const makers = target.rooms.flatMap((_, room) =>
    Array.from({ length: perRoom }, (_, i) => () => {
      const client: Client = clientOf(target, room * perRoom + i, room, {
        onEdits: seesEdits(),
        onPresence,
        onSaved: (vector) => {
          const own = written.get(client.ydoc.clientID);
          if (!own) return;
          const clock = Y.decodeStateVector(vector).get(client.ydoc.clientID) ?? 0;
          const now = performance.now();
          while (own.saved < own.clocks.length && (own.clocks[own.saved] ?? 0) <= clock) {
            if (measuring) result.saved.push(now - (own.times[own.saved] ?? now));
            own.saved += 1;
          }
        },
      });
      written.set(client.ydoc.clientID, { clocks: [], times: [], saved: 0 });
      pointed.set(String(client.ydoc.clientID), []);
      return client;
    }),
  );
  const clients = await openAll(makers);
  seed(target, clients, perRoom);
  await pause(200);

  const next = randomFrom(7);
  const editors = clients.map((client, i) => ({
    client,
    gestures: gesturesFrom(i + 1),
    edit: next() * (1000 / editsPerSecond),
    point: presencePerSecond > 0 ? next() * (1000 / presencePerSecond) : Number.POSITIVE_INFINITY,
    pointed: 0,
  }));
  const began = performance.now();
  const ticking = setInterval(() => {
    const now = performance.now() - began;
    for (const editor of editors) {
      const { client } = editor;
      while (editor.edit <= now) {
        editor.edit += 1000 / editsPerSecond;
        const own = written.get(client.ydoc.clientID);
        if (!own) continue;
        const at = performance.now();
        // Noted before it is sent: a server may be quicker than the next line.
        own.clocks.push(Y.getState(client.ydoc.store, client.ydoc.clientID) + 1);
        own.times.push(at);
        write(client.ydoc, editor.gestures.next().value);
      }
      while (editor.point <= now) {
        editor.point += 1000 / presencePerSecond;
        pointed.get(String(client.ydoc.clientID))?.push(performance.now());
        client.present(editor.pointed);
        editor.pointed += 1;
      }
    }
  }, 4);
  const committing = job.commits
    ? await commitSteadily(job.commits, () => measuring, result)
    : null;
  await pause(warmMs);

  await agree('begins');
  const cpu = process.cpuUsage();
  const bytes = clients.reduce((sum, { changeBytes }) => sum + changeBytes, 0);
  const start = performance.now();
  measuring = true;
  await pause(measureMs);
  measuring = false;
  result.ms = performance.now() - start;
  const { user, system } = process.cpuUsage(cpu);
  result.cpuMs = (user + system) / 1000;
  result.edits = result.edit.length;
  result.presences = result.presence.length;
  result.changeBytes = clients.reduce((sum, { changeBytes }) => sum + changeBytes, 0) - bytes;
  await agree('ends');

  clearInterval(ticking);
  await committing?.();
  for (const client of clients) client.close();
  return result;
}

/** One commit after the other at a pace, each timed. */
async function commitSteadily(
  { url, perSecond, bytes }: NonNullable<SteadyJob['commits']>,
  measuring: () => boolean,
  result: SteadyResult,
): Promise<() => Promise<void>> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  await client.query(
    'CREATE TABLE IF NOT EXISTS bare_commit (id bigserial PRIMARY KEY, bytes bytea)',
  );
  const payload = Buffer.alloc(bytes, 7);
  let running: Promise<unknown> = Promise.resolve();
  const timer = setInterval(() => {
    running = running.then(async () => {
      const began = performance.now();
      await client.query({
        name: 'bare',
        text: 'INSERT INTO bare_commit (bytes) VALUES ($1)',
        values: [payload],
      });
      if (measuring()) result.commit.push(performance.now() - began);
    });
  }, 1000 / perSecond);
  return async () => {
    clearInterval(timer);
    await running;
    await client.end();
  };
}

async function join({ target, atOnce, times }: JoinJob): Promise<JoinResult> {
  const ms: number[] = [];
  for (let i = 0; i < times; i++) {
    const began = performance.now();
    // A room each where there are several: they are to be found cold.
    const group = Array.from({ length: atOnce }, (_, n) =>
      clientOf(target, n, i % target.rooms.length),
    );
    await Promise.all(group.map(({ synced }) => synced));
    ms.push(performance.now() - began);
    for (const client of group) client.close();
    await pause(50);
  }
  return { ms };
}

async function stay({ target }: SeedJob): Promise<null> {
  const clients = await openAll(target.rooms.map((_, room) => () => clientOf(target, 0, room)));
  seed(target, clients, 1);
  await pause(500);
  await agree('ready');
  for (const client of clients) client.close();
  return null;
}

async function idle({ target, sockets }: IdleJob): Promise<null> {
  const clients = await openAll(
    Array.from({ length: sockets }, (_, n) => () => clientOf(target, n, n % target.rooms.length)),
  );
  seed(target, clients.slice(0, target.rooms.length), 1);
  await pause(1500);
  await agree('ready');
  for (const client of clients) client.close();
  return null;
}

async function history({ target, gestures, editors }: HistoryJob): Promise<HistoryResult> {
  const began = performance.now();
  const durable = new Map<number, number>();
  const clients = await openAll(
    Array.from({ length: editors }, (_, n) => () => {
      const client: Client = clientOf(target, n, 0, {
        onSaved: (vector) => {
          const { clientID } = client.ydoc;
          durable.set(clientID, Y.decodeStateVector(vector).get(clientID) ?? 0);
        },
      });
      return client;
    }),
  );
  const hands = clients.map((client, i) => ({ client, gestures: gesturesFrom(100 + i) }));
  const isSaved = ({ ydoc }: Client): boolean =>
    (durable.get(ydoc.clientID) ?? 0) >= Y.getState(ydoc.store, ydoc.clientID);
  for (let done = 0; done < gestures; ) {
    for (const { client, gestures: stream } of hands) {
      for (let i = 0; i < 40 && done < gestures; i++, done++)
        write(client.ydoc, stream.next().value);
    }
    while (!clients.every(isSaved)) await pause(1);
  }
  const [first] = clients;
  const bytes = first ? Y.encodeStateAsUpdate(first.ydoc).byteLength : 0;
  for (const client of clients) client.close();
  return { ms: performance.now() - began, bytes };
}

async function visit({ target }: VisitJob): Promise<null> {
  for (let room = 0; room < target.rooms.length; room += 20) {
    const some = await openAll(
      target.rooms.slice(room, room + 20).map((_, n) => () => clientOf(target, n, room + n)),
    );
    for (const client of some) client.close();
  }
  return null;
}

function run(job: Job): Promise<unknown> {
  switch (job.kind) {
    case 'steady':
      return steady(job);
    case 'join':
      return join(job);
    case 'seed':
      return stay(job);
    case 'idle':
      return idle(job);
    case 'history':
      return history(job);
    case 'visit':
      return visit(job);
  }
}

process.on('message', (message: ToLoad) => {
  if ('go' in message) {
    go();
    return;
  }
  run(message.job).then(
    (result) => tell({ said: 'done', result }),
    (error: unknown) =>
      tell({ said: 'failed', why: error instanceof Error ? (error.stack ?? '') : String(error) }),
  );
});
process.on('disconnect', () => process.exit(0));
