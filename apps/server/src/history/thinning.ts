import type { Logger } from 'pino';
import type { Prisma } from '../database.ts';
import { thinBoard } from './thin.ts';

/** How often the logs are gone through. Milliseconds. */
const everyMs = 6 * 60 * 60 * 1000;

/**
 * Thins the boards' histories now and then, one board at a time; any number of servers may. Gives back
 * how to stop, which waits for the board that is being thinned.
 */
export function startThinning(database: Prisma, log: Logger): () => Promise<void> {
  let stopping = false;
  const round = async (): Promise<void> => {
    const boards = await database.boardSnapshot.findMany({
      distinct: ['boardId'],
      select: { boardId: true },
    });
    for (const { boardId } of boards) {
      if (stopping) return;
      const rows = await thinBoard(database, boardId, new Date());
      if (rows > 0) log.info({ board: boardId, rows }, 'thinned the history of a board');
    }
  };
  const run = (): Promise<void> =>
    round().catch((error: unknown) => log.warn({ err: error }, 'could not thin the histories'));
  let running = run();
  const timer = setInterval(() => {
    running = running.then(run);
  }, everyMs);
  timer.unref();
  return async () => {
    stopping = true;
    clearInterval(timer);
    await running;
  };
}
