import { setTimeout as pause } from 'node:timers/promises';
import { frame } from '@stemline/protocol/message';
import * as decoding from 'lib0/decoding';
import { WebSocket } from 'ws';
import { messageYjsSyncStep2 } from 'y-protocols/sync';
import * as Y from 'yjs';
import type { Person } from '../support/accounts.ts';
import type { ServerProcess } from '../support/process.ts';
import { answer, ask, type Raw, raw } from '../support/raw.ts';
import { Editor } from './editor.ts';
import { type Home, openHome } from './home.ts';
import { type Prey, volley } from './hostile.ts';
import { Random } from './random.ts';
import { divergent, replay } from './replay.ts';
import { awaitState } from './wait.ts';

export interface Fuzzed {
  /** Boards that were attacked, one after the other. */
  boards: number;
  /** Hostile frames that the server has read and decided on. */
  frames: number;
  /** Connections of attackers that it ended. */
  ended: number;
  /** Frames answered otherwise than they must be, by kind. */
  wrong: Record<string, number>;
  crashes: number;
  divergent: number;
  /** Honest coaches turned away, or their edits refused. */
  turnedAway: number;
  /** Presence of somebody under a name that is not his account's. */
  spoofed: number;
  honestEdits: number;
  /** MiB of the server's process after the first board and after the last. */
  memory: { first: number; last: number };
}

/** Connections at once. */
const attackers = 12;
/** Hostile frames at one board, and honest edits on it, until the next one's turn. */
const framesOfBoard = 50_000;
const editsOfBoard = 1_500;

/** An attacker's view of the board is as old as that at most: reading it anew for every frame is what took the time. */
const preyHoldsMs = 200;

/** What waits its turn has had it after this long. */
const turnPatienceMs = 20_000;

interface Round {
  home: Home;
  server: ServerProcess;
  head: Person;
  coordinator: Person;
  /** Sessions of those who attack. */
  cookies: readonly string[];
  seed: number;
  isOver: () => boolean;
}

/**
 * Fires `frames` hostile frames over real sockets while two honest coaches work on the same board: one
 * server all the time, board after board, each looked at in the end.
 */
export async function fuzz(
  wish: { frames: number; seed: number; isOver: () => boolean },
  say: (sentence: string) => void,
): Promise<Fuzzed> {
  const home = await openHome();
  const counts: Fuzzed = {
    boards: 0,
    frames: 0,
    ended: 0,
    wrong: {},
    crashes: 0,
    divergent: 0,
    turnedAway: 0,
    spoofed: 0,
    honestEdits: 0,
    memory: { first: 0, last: 0 },
  };
  const server = await home.start();
  try {
    const head = await home.person('Ada Holm', 'headCoach');
    const coordinator = await home.person('Ben Ruiz', 'coordinator');
    // The one may write on the line, the other nothing.
    const cookies = [
      (await home.person('Cal Weiss', 'positionCoach', 'line')).cookie,
      (await home.person('Dan Fore', 'assistant')).cookie,
    ];
    while (counts.frames < wish.frames && server.ended() === null && !wish.isOver()) {
      const enough = Math.min(wish.frames, counts.frames + framesOfBoard);
      const isOver = (): boolean =>
        counts.frames >= enough || server.ended() !== null || wish.isOver();
      const seed = wish.seed + 100 * counts.boards;
      await attackBoard({ home, server, head, coordinator, cookies, seed, isOver }, counts);
      counts.boards += 1;
      if (server.ended() === null) counts.memory.last = await memoryOf(server);
      counts.memory.first ||= counts.memory.last;
      say(
        `${counts.frames} hostile frames at ${counts.boards} boards, ${counts.ended} connections ended, the server has ${counts.memory.last} MiB`,
      );
    }
    counts.crashes = server.ended() === null ? 0 : 1;
    return counts;
  } finally {
    await server.stop();
    await home.close();
  }
}

async function attackBoard(
  { home, server, head, coordinator, cookies, seed, isOver }: Round,
  counts: Fuzzed,
): Promise<void> {
  const crew: Editor[] = [];
  try {
    const board = await home.board(head);
    for (const [i, { cookie }] of [head, coordinator].entries())
      crew.push(new Editor(home.rooms, board, cookie, seed + i));
    await awaitState('the honest are in', () => crew.every(({ synced }) => synced));
    const heard: Uint8Array[] = [];
    crew[0]?.ydoc.on('update', (update: Uint8Array) => {
      heard.push(update);
      if (heard.length > 200) heard.shift();
    });
    watchNames(crew, counts);
    for (const editor of crew) {
      editor.provider.awareness.setLocalState({ cursor: [0, 0] });
      editor.begin(20);
    }
    await awaitState(
      'something is heard',
      () => heard.length > 4 && crew.every((e) => e.isSaved || e.written > 8),
    );
    // Only edits that are durable: whatever comes of them later is nothing new.
    let seen = crew[0]?.state ?? new Uint8Array();
    let seenAt = performance.now();
    const prey = (): Prey => {
      if (performance.now() - seenAt > preyHoldsMs) {
        seen = crew[0]?.state ?? seen;
        seenAt = performance.now();
      }
      return {
        state: seen,
        others: crew.map(({ ydoc }) => ydoc.clientID),
        heard: heard.slice(0, Math.max(1, heard.length >> 1)),
      };
    };
    await Promise.all(
      Array.from({ length: attackers }, async (_, i) => {
        const random = new Random(seed * 1000 + i);
        while (!isOver() && editsOf(crew) < editsOfBoard)
          await attack(`${home.rooms}/${board}`, random.of(cookies), random, prey, counts);
      }),
    );
    for (const editor of crew) await editor.stop();
    if (server.ended() === null) {
      await awaitState('the honest are saved', () => crew.every((e) => e.synced && e.isSaved));
      await awaitState(
        'and equal',
        () => divergent(crew.map(({ state }) => state)) === 0,
        10_000,
      ).catch(() => undefined);
    }
    const stored = await replay(home.prisma, board);
    counts.divergent += divergent([
      Y.encodeStateAsUpdate(stored),
      ...crew.map(({ state }) => state),
    ]);
    counts.turnedAway += crew.reduce((n, { closes, refused }) => n + closes.length + refused, 0);
    counts.honestEdits += editsOf(crew);
  } finally {
    for (const editor of crew) editor.leave();
  }
}

const editsOf = (crew: readonly Editor[]): number =>
  crew.reduce((sum, { written }) => sum + written, 0);

/** MiB that its process holds, as it says itself. */
async function memoryOf({ origin }: ServerProcess): Promise<number> {
  const metrics = await (await fetch(`${origin}/metrics`)).text();
  const bytes = /^process_resident_memory_bytes (\S+)$/m.exec(metrics)?.[1];
  if (bytes === undefined) throw new Error('the server does not say how much memory it has');
  return Math.round(Number(bytes) / 1_048_576);
}

/** Attackers may be seen, but never as one of the honest. */
function watchNames(crew: readonly Editor[], counts: Fuzzed): void {
  const honest = new Map(
    crew.map(({ ydoc }, i) => [ydoc.clientID, i === 0 ? 'Ada Holm' : 'Ben Ruiz']),
  );
  for (const { provider, ydoc } of crew) {
    provider.awareness.on('change', () => {
      for (const [id, state] of provider.awareness.getStates()) {
        const name = (state as { member?: { name?: string } }).member?.name;
        if (id === ydoc.clientID || name === undefined) continue;
        const own = honest.get(id);
        const isTrue =
          own === undefined ? name !== 'Ada Holm' && name !== 'Ben Ruiz' : name === own;
        if (!isTrue) counts.spoofed += 1;
      }
    });
  }
}

/** One connection: volleys until it is ended. */
async function attack(
  url: string,
  cookie: string,
  random: Random,
  prey: () => Prey,
  counts: Fuzzed,
): Promise<void> {
  const line = raw(url, { cookie });
  const wrong = (kind: string): void => {
    counts.wrong[kind] = (counts.wrong[kind] ?? 0) + 1;
  };
  try {
    const over = line.closed.then((): 'ended' => 'ended');
    if ((await Promise.race([line.opened, over])) === 'ended') return;
    line.send(ask());
    await awaitState(
      'synced',
      () => line.frames.some(isAnswer) || line.socket.readyState !== WebSocket.OPEN,
    );
    line.send(answer(Uint8Array.of(0, 0)));
    for (let left = 10; left > 0; left--) {
      const frames = volley(random, prey());
      for (const { bytes } of frames) line.send(bytes);
      const last = frames.at(-1);
      counts.frames += frames.length;
      if (!last) throw new Error('an empty volley');
      let outcome = await Promise.race([over, pong(line)]);
      // Whose refused work took long is judged later, and a pong says nothing of it (R76).
      if (outcome === 'stands' && last.ends === 'always')
        outcome = await Promise.race([over, pause(turnPatienceMs, 'stands' as const)]);
      if (outcome === 'ended') {
        counts.ended += 1;
        const { code } = await line.closed;
        if (last.ends === 'never' || code < 4400 || code > 4499)
          wrong(`${last.kind} ended with ${code}`);
        return;
      }
      if (last.ends === 'always') wrong(`${last.kind} went by`);
      // It may still be refused, once it has been waited for what it builds on (R112): later frames would be blamed.
      if (last.ends === 'perhaps') return;
    }
  } finally {
    line.socket.terminate();
  }
}

/** Answered in order, after every frame before it was read. */
const pong = ({ socket }: Raw): Promise<'stands'> =>
  new Promise((resolve) => {
    socket.once('pong', () => resolve('stands'));
    if (socket.readyState === WebSocket.OPEN) socket.ping();
  });

function isAnswer(bytes: Uint8Array): boolean {
  const decoder = decoding.createDecoder(bytes);
  return (
    decoding.readVarUint(decoder) === frame.sync &&
    decoding.readVarUint(decoder) === messageYjsSyncStep2
  );
}
