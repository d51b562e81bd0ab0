import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import * as Y from 'yjs';
import type { ServerProcess } from '../support/process.ts';
import { Editor } from './editor.ts';
import { type Home, openHome } from './home.ts';
import { Random } from './random.ts';
import { divergent, missing, replay } from './replay.ts';
import { awaitState, pause } from './wait.ts';

export interface Kills {
  /** kill -9 of the app, and of PostgreSQL, each at a random moment under load. */
  app: number;
  database: number;
  edits: number;
  /** Checked after every kill, before anybody came back. */
  acknowledged: number;
  acknowledgedLost: number;
  /** Edits that were not acknowledged when it happened, and are not there at the end of the cycle. */
  heldLost: number;
  divergent: number;
  /** Honest coaches turned away, or their edits refused. */
  turnedAway: number;
}

const editors = 4;
/** Milliseconds between two edits of one editor. */
const pace = 8;

const sum = (vector: ReadonlyMap<number, number>): number =>
  [...vector.values()].reduce((total, clock) => total + clock, 0);

export async function killAgainAndAgain(
  wish: { app: number; database: number; seed: number; isOver: () => boolean },
  say: (sentence: string) => void,
): Promise<Kills> {
  const random = new Random(wish.seed);
  const home = await openHome();
  const counts: Kills = {
    app: 0,
    database: 0,
    edits: 0,
    acknowledged: 0,
    acknowledgedLost: 0,
    heldLost: 0,
    divergent: 0,
    turnedAway: 0,
  };
  const crew: Editor[] = [];
  let server: ServerProcess | null = null;
  try {
    const head = await home.person('Ada Holm', 'headCoach');
    const board = await home.board(head);
    server = await home.start();
    for (let i = 0; i < editors; i++)
      crew.push(new Editor(home.rooms, board, head.cookie, wish.seed + i));
    const order: ('app' | 'database')[] = [
      ...Array.from({ length: wish.app }, () => 'app' as const),
      ...Array.from({ length: wish.database }, () => 'database' as const),
    ].sort(() => random.next() - 0.5);
    for (const victim of order) {
      if (wish.isOver()) break;
      await awaitState('all are in', () => crew.every(({ synced }) => synced));
      for (const editor of crew) editor.begin(pace);
      await pause(random.between(20, 900));
      if (victim === 'app') {
        await server.kill();
        // They write on while nobody listens: these edits are unacknowledged for certain.
        await pause(random.between(0, 50));
        await rest(crew);
        await lookAtStore(home, board, crew, counts);
        server = await home.start();
      } else {
        await killPostgres(home.dataDir);
        await pause(random.between(0, 300));
        await rest(crew);
        await awaitState('the database is back', () => isUp(home));
        await lookAtStore(home, board, crew, counts);
      }
      counts[victim] += 1;
      await settle(home, board, crew, counts);
      if ((counts.app + counts.database) % 10 === 0)
        say(
          `${counts.app} kills of the app, ${counts.database} of the database: ${counts.acknowledgedLost} acknowledged edits lost`,
        );
    }
    counts.edits = crew.reduce((total, { written }) => total + written, 0);
    counts.turnedAway = crew.reduce((n, { closes, refused }) => n + closes.length + refused, 0);
    return counts;
  } finally {
    for (const editor of crew) editor.leave();
    await server?.stop();
    await home.close();
  }
}

const rest = (crew: readonly Editor[]): Promise<unknown> =>
  Promise.all(crew.map((editor) => editor.stop()));

/** Everything anybody was told is saved must be in the log as it lies there. */
async function lookAtStore(
  home: Home,
  board: string,
  crew: readonly Editor[],
  counts: Kills,
): Promise<void> {
  const told = crew.map(({ saved }) => new Map(saved));
  const stored = await replay(home.prisma, board);
  for (const vector of told) counts.acknowledgedLost += missing(stored, vector);
  counts.acknowledged += Math.max(...told.map(sum));
}

/** Everybody is back: all is saved, and everybody and the log hold the same. */
async function settle(
  home: Home,
  board: string,
  crew: readonly Editor[],
  counts: Kills,
): Promise<void> {
  const held = crew.map(({ ydoc }) => Y.decodeStateVector(Y.encodeStateVector(ydoc)));
  await awaitState('everything is saved', () =>
    crew.every((editor) => editor.synced && editor.isSaved),
  );
  const equal = (): boolean => divergent(crew.map(({ state }) => state)) === 0;
  await awaitState('everybody sees the same', equal, 10_000).catch(() => undefined);
  const stored = await replay(home.prisma, board);
  for (const vector of held) counts.heldLost += missing(stored, vector);
  counts.divergent += divergent([Y.encodeStateAsUpdate(stored), ...crew.map(({ state }) => state)]);
}

async function killPostgres(dataDir: string): Promise<void> {
  const pidFile = join(dataDir, 'postgres', 'cluster', 'postmaster.pid');
  process.kill(Number((await readFile(pidFile, 'utf8')).split('\n')[0]), 'SIGKILL');
}

const isUp = (home: Home): Promise<boolean> =>
  home.prisma.$queryRaw`SELECT 1`.then(
    () => true,
    () => false,
  );
