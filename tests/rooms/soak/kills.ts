import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { ServerProcess } from '../support/process.ts';
import { Editor } from './editor.ts';
import { type Home, openHome } from './home.ts';
import { type Losses, lookAtStore, noLosses, rest, settle } from './losses.ts';
import { Random } from './random.ts';
import { awaitState, pause } from './wait.ts';

export interface Kills extends Losses {
  /** kill -9 of the app, and of PostgreSQL, each at a random moment under load. */
  app: number;
  database: number;
  edits: number;
}

const editors = 4;
/** Milliseconds between two edits of one editor. */
const pace = 8;

export async function killAgainAndAgain(
  wish: { app: number; database: number; seed: number; isOver: () => boolean },
  say: (sentence: string) => void,
): Promise<Kills> {
  const random = new Random(wish.seed);
  const home = await openHome();
  const counts: Kills = {
    ...noLosses(),
    app: 0,
    database: 0,
    edits: 0,
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

async function killPostgres(dataDir: string): Promise<void> {
  const pidFile = join(dataDir, 'postgres', 'cluster', 'postmaster.pid');
  process.kill(Number((await readFile(pidFile, 'utf8')).split('\n')[0]), 'SIGKILL');
}

const isUp = (home: Home): Promise<boolean> =>
  home.prisma.$queryRaw`SELECT 1`.then(
    () => true,
    () => false,
  );
