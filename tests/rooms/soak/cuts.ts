import * as Y from 'yjs';
import { freePort } from '../../../apps/server/src/cluster/free-port.ts';
import { startRedis } from '../../../apps/server/src/cluster/redis.ts';
import type { Prisma } from '../../../apps/server/src/database.ts';
import type { ServerProcess } from '../support/process.ts';
import { Editor } from './editor.ts';
import { openHome } from './home.ts';
import { type Losses, lookAtStore, noLosses, rest, settle } from './losses.ts';
import { Random } from './random.ts';
import { awaitState, pause } from './wait.ts';

export interface Cuts extends Losses {
  /** Redis killed, Redis frozen, one of two servers killed; each at a random moment under load. */
  killed: number;
  frozen: number;
  servers: number;
  /** Times that a server said that Redis is away. */
  saidAway: number;
  edits: number;
  /** Rows of the log that brought nothing which was not there. */
  doubled: number;
}

const ways = ['killed', 'frozen', 'servers'] as const;
/** Milliseconds that Redis stays away: unnoticed, hardly noticed, and noticed by all. */
const lengths = [80, 900, 4_500];
const pace = 8;
const editorsOfServer = 2;

/** Two servers on one PostgreSQL and one Redis, whose line is cut again and again. */
export async function cutAgainAndAgain(
  wish: { cuts: number; seed: number; isOver: () => boolean },
  say: (sentence: string) => void,
): Promise<Cuts> {
  const random = new Random(wish.seed);
  const redis = await startRedis();
  const home = await openHome();
  const counts: Cuts = {
    ...noLosses(),
    killed: 0,
    frozen: 0,
    servers: 0,
    saidAway: 0,
    edits: 0,
    doubled: 0,
  };
  const crew: Editor[] = [];
  const ports = [await freePort(), await freePort()];
  const start = (port: number) => home.start(port, { REDIS_URL: redis.url });
  const servers: ServerProcess[] = [];
  try {
    const head = await home.person('Ada Holm', 'headCoach');
    const board = await home.board(head);
    for (const port of ports) servers.push(await start(port));
    for (const [n, { rooms }] of servers.entries()) {
      for (let i = 0; i < editorsOfServer; i++)
        crew.push(new Editor(rooms, board, head.cookie, wish.seed + 10 * n + i));
    }
    for (let cut = 0; cut < wish.cuts && !wish.isOver(); cut++) {
      const way = ways[cut % ways.length] ?? 'killed';
      await awaitState('all are in', () => crew.every(({ synced }) => synced));
      for (const editor of crew) editor.begin(pace);
      await pause(random.between(20, 900));
      const away = lengths[Math.floor(cut / ways.length) % lengths.length] ?? 0;
      if (way === 'servers') {
        const victim = random.next() < 0.5 ? 0 : 1;
        await servers[victim]?.kill();
        await rest(crew);
        await lookAtStore(home, board, crew, counts);
        servers[victim] = await start(ports[victim] ?? 0);
      } else {
        if (way === 'killed') await redis.kill();
        else redis.freeze();
        await pause(away);
        counts.saidAway += (await Promise.all(servers.map(saysAway))).filter(Boolean).length;
        await rest(crew);
        await lookAtStore(home, board, crew, counts);
        // Back before they have settled, or only after that.
        const isLate = random.next() < 0.5;
        if (isLate) await settle(home, board, crew, counts);
        if (way === 'killed') await redis.start();
        else redis.thaw();
      }
      await settle(home, board, crew, counts);
      counts[way] += 1;
      if ((cut + 1) % 10 === 0)
        say(`${cut + 1} cuts: ${counts.acknowledgedLost} acknowledged edits lost`);
    }
    counts.doubled = await doubledRows(home.prisma, board);
    counts.edits = crew.reduce((total, { written }) => total + written, 0);
    counts.turnedAway = crew.reduce((n, { closes, refused }) => n + closes.length + refused, 0);
    return counts;
  } finally {
    for (const editor of crew) editor.leave();
    await Promise.all(servers.map((server) => server.stop()));
    await home.close();
    await redis.stop();
  }
}

const saysAway = async ({ origin }: ServerProcess): Promise<boolean> =>
  (await (await fetch(`${origin}/readyz`)).text()).includes('"redis":"away"');

async function doubledRows(prisma: Prisma, boardId: string): Promise<number> {
  const rows = await prisma.boardUpdate.findMany({ where: { boardId }, orderBy: { id: 'asc' } });
  const ydoc = new Y.Doc();
  let brought = 0;
  ydoc.on('update', () => {
    brought += 1;
  });
  let doubled = 0;
  for (const { bytes } of rows) {
    const before = brought;
    Y.applyUpdate(ydoc, bytes);
    if (brought === before) doubled += 1;
  }
  return doubled;
}
