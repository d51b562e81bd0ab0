import { createBoardState } from '@stemline/board/create';
import { project } from '@stemline/board/project';
import { newDocument } from '@stemline/board/schema';
import * as Y from 'yjs';
import { type Figure, lower } from '../figure.ts';
import { gesturesFrom, writeNaively } from './gestures.ts';
import { boardState, copyBoard, type Home } from './home.ts';
import type { HistoryResult, JoinResult, Target } from './jobs.ts';
import { load } from './loader.ts';
import type { Side } from './sides.ts';
import { median } from './statistics.ts';

const gestures = 50_000;
const editors = 4;
const colds = 15;
/** Boards opened before, so that the server has compiled what opening takes. */
const opened = 60;

/** The same gestures of the same editors as keys x and y: what a peer's users would have. */
function naiveBoard(): Uint8Array {
  const hands = Array.from({ length: editors }, (_, i) => {
    const ydoc = newDocument(1000 + i);
    Y.applyUpdate(ydoc, boardState());
    return { ydoc, stream: gesturesFrom(100 + i) };
  });
  for (const { ydoc } of hands) {
    ydoc.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin === 'other') return;
      for (const other of hands)
        if (other.ydoc !== ydoc) Y.applyUpdate(other.ydoc, update, 'other');
    });
  }
  for (let done = 0; done < gestures; ) {
    for (const { ydoc, stream } of hands) {
      for (let i = 0; i < 40 && done < gestures; i++, done++)
        writeNaively(ydoc, stream.next().value);
    }
  }
  const [first] = hands;
  return first ? Y.encodeStateAsUpdate(first.ydoc) : new Uint8Array();
}

interface Joined {
  one: number[];
  thirty: number[];
}

async function join(target: Target, times: number): Promise<Joined> {
  const one = await load<JoinResult>({ kind: 'join', target, atOnce: 1, times });
  const thirty = await load<JoinResult>({ kind: 'join', target, atOnce: 30, times: 3 });
  // The first of a process also warms it up.
  return { one: one.ms.slice(1), thirty: thirty.ms };
}

/** A late joiner after 50,000 gestures, thirty at once, a cold room, and what the board then weighs. */
export async function joinFigures(
  home: Home,
  sides: readonly Side[],
  say: (sentence: string) => void,
): Promise<Figure[]> {
  const ours = sides.find(({ name }) => name === 'Stemline');
  if (!ours) throw new Error('Stemline is one of the sides');
  const [board = '', ...copies] = await home.boards(1 + colds + 1);
  const target: Target = {
    dialect: ours.dialect,
    url: ours.url,
    rooms: [board],
    cookies: home.cookies,
    base: null,
  };
  const history = await load<HistoryResult>({ kind: 'history', target, gestures, editors });
  say(`Stemline took ${gestures} gestures in ${(history.ms / 1000).toFixed(1)} s`);
  const rows = await home.prisma.$queryRaw<{ bytes: bigint; log: bigint }[]>`
    SELECT sum(length(bytes)) AS bytes, sum(pg_column_size(u.*)) AS log FROM "BoardUpdate" u WHERE "boardId" = ${board}`;
  const unpacked = Y.encodeStateAsUpdate(await boardFrom(home, board));
  await packed(home, board);
  for (const copy of copies) await copyBoard(home.prisma, board, copy);
  // What PostgreSQL does after so many rows at once is not to fall into what is measured.
  await home.prisma.$executeRaw`VACUUM ANALYZE "BoardUpdate"`;
  await home.prisma.$executeRaw`CHECKPOINT`;
  const state = await stored(home, board);

  const naive = naiveBoard();
  say(
    `a board of theirs ${naive.byteLength} bytes, ours ${unpacked.byteLength}, packed ${state.byteLength}`,
  );
  const found = new Map<string, Joined>();
  for (const side of sides) {
    if (side.name === 'relay') continue;
    const isOurs = side.name === 'Stemline';
    const room: Target = isOurs
      ? target
      : { dialect: side.dialect, url: side.url, rooms: ['late'], cookies: [], base: naive };
    const joined = await new Promise<Joined>((resolve, reject) => {
      load<null>(
        { kind: 'seed', target: room },
        {
          // The one who brought it stays meanwhile.
          ready: async () => resolve(await join({ ...room, base: null }, 8)),
        },
      ).catch(reject);
    });
    found.set(side.name, joined);
    say(`${side.name}: joins in ${median(joined.one).toFixed(1)} ms`);
  }
  const others = await home.boards(opened);
  await load<null>({ kind: 'visit', target: { ...target, rooms: others } });
  // The first copy warms the load up; its time does not count.
  const cold = await load<JoinResult>({
    kind: 'join',
    target: { ...target, rooms: copies },
    atOnce: 1,
    times: copies.length,
  });

  const one = (side: string): number => median(found.get(side)?.one ?? []);
  const thirty = (side: string): number => median(found.get(side)?.thirty ?? []);
  const better = Math.min(one('websocket-server'), one('hocuspocus'));
  const [{ bytes = 0n, log = 0n } = {}] = rows;
  const once = writtenOnce(state);
  return [
    lower('late joiner, Stemline: join after 50,000 gestures', one('Stemline'), 'ms', better / 5),
    ...['websocket-server', 'hocuspocus'].map((side) =>
      lower(`late joiner, ${side}: join after the same as keys x and y`, one(side), 'ms'),
    ),
    lower(
      'late joiner, Stemline: join of a cold room',
      median(cold.ms.slice(1)),
      'ms',
      2 * one('Stemline'),
    ),
    ...['Stemline', 'websocket-server', 'hocuspocus'].map((side) =>
      lower(
        `late joiner, ${side}: 30 at once, until the last has it`,
        thirty(side),
        'ms',
        side === 'Stemline' ? Math.min(thirty('websocket-server'), thirty('hocuspocus')) : null,
      ),
    ),
    lower(
      'board of 50,000 gestures, Stemline: state',
      state.byteLength,
      'bytes',
      Math.round(1.2 * once),
    ),
    lower(
      'board of 50,000 gestures, Stemline: state before it is packed',
      unpacked.byteLength,
      'bytes',
    ),
    lower('board of 50,000 gestures: the same board written once', once, 'bytes'),
    lower('board of 50,000 gestures, as keys x and y: state', naive.byteLength, 'bytes'),
    lower(
      'board of 50,000 gestures, Stemline: log, bytes an edit',
      Number(bytes) / gestures,
      'bytes',
    ),
    lower(
      'board of 50,000 gestures, Stemline: log rows, bytes an edit',
      Number(log) / gestures,
      'bytes',
    ),
    lower('board of 50,000 gestures, Stemline: taken, durable', history.ms / 1000, 's'),
  ];
}

/** How long a room may take to go idle and be packed, milliseconds. */
const packPatience = 120_000;

/** Resolves once everybody has left the board and it is packed. */
async function packed({ prisma }: Home, boardId: string): Promise<void> {
  const deadline = performance.now() + packPatience;
  while ((await prisma.boardSnapshot.count({ where: { boardId, NOT: { packed: null } } })) === 0) {
    if (performance.now() > deadline) throw new Error('the board is never packed');
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
}

/** What a joiner is sent. */
async function stored({ prisma }: Home, boardId: string): Promise<Uint8Array> {
  const { bytes } = await prisma.boardSnapshot.findFirstOrThrow({
    where: { boardId },
    orderBy: [{ upTo: 'desc' }, { id: 'desc' }],
  });
  return bytes;
}

/** What the log comes to. */
async function boardFrom({ prisma }: Home, boardId: string): Promise<Y.Doc> {
  const ydoc = new Y.Doc();
  const rows = await prisma.boardUpdate.findMany({ where: { boardId }, orderBy: { id: 'asc' } });
  ydoc.transact(() => {
    for (const { bytes } of rows) Y.applyUpdate(ydoc, bytes);
  });
  return ydoc;
}

/** What the same board takes when somebody writes it down once. */
function writtenOnce(state: Uint8Array): number {
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, state);
  const { play, notes } = project(ydoc).board;
  return createBoardState(play, notes).byteLength;
}
