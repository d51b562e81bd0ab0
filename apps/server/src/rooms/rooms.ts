import type { Buffer } from 'node:buffer';
import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';
import type { BoardPlay } from '@stemline/board/board-play';
import type { LiveFinding, RoomEvent } from '@stemline/protocol/message';
import type { Logger } from 'pino';
import { Registry } from 'prom-client';
import type * as Y from 'yjs';
import type { SessionOf, SignedToken } from '../accounts/session.ts';
import type { AccessChange } from '../bus/message.ts';
import type { Servers } from '../bus/servers.ts';
import type { Prisma } from '../database.ts';
import type { OriginCheck } from '../http/origin.ts';
import { Access, type Pass, sharing } from './access.ts';
import { Background } from './background.ts';
import type { Sender } from './board-state.ts';
import { Checker } from './checking/checker.ts';
import { Connection, type ConnectionDeps } from './connection.ts';
import { CostlyUpdates } from './costly-updates.ts';
import { Door } from './door.ts';
import { FanOut } from './fan-out/fan-out.ts';
import { Heartbeats } from './heartbeats.ts';
import { boundHeldBytes } from './held-bytes.ts';
import { type RoomLimits, roomLimits } from './limits.ts';
import { loadBoard, UnknownBoard } from './load.ts';
import { Log } from './log.ts';
import { RoomMetrics } from './metrics.ts';
import { Outbox } from './outbox.ts';
import { Packer } from './packer.ts';
import { prismaStore } from './prisma-store.ts';
import { Quarantine } from './quarantine.ts';
import { type EditOutcome, Room } from './room.ts';
import { Shares } from './shares.ts';
import type { RoomSocket } from './socket.ts';
import { StaffLooks } from './staff-looks.ts';
import type { BoardStore } from './store.ts';
import { Upgrade } from './upgrade.ts';

export interface RoomsDeps {
  prisma: Prisma;
  sessionOf: SessionOf;
  signedToken: SignedToken;
  allowsOrigin: OriginCheck;
  log: Logger;
  /** The address of a client behind a proxy of ours is what the proxy says. */
  trustProxy: boolean;
  /** Where the rooms' metrics are read; left out: nowhere. */
  registry?: Registry;
  /** Left out: Postgres. */
  store?: BoardStore;
  /** Left out: those of the protocol. */
  limits?: Partial<RoomLimits>;
  now?: () => Date;
  /** The other servers on this store; left out: there are none. */
  servers?: Servers;
}

export interface Rooms {
  /** Answers an HTTP upgrade, whatever it asks for. */
  upgrade(req: IncomingMessage, socket: Duplex, head: Buffer): void;
  /** Tells everybody on a board that something beside its document changed. */
  publish(boardId: string, event: RoomEvent): void;
  /** Decides again who of those named may stay, and as what; resolves when all of them know (R50). */
  accessChanged(change: AccessChange): Promise<void>;
  /** The durable board, everything accepted by now included, and the findings of that very state. */
  freeze(boardId: string): Promise<{ content: BoardPlay; findings: readonly LiveFinding[] }>;
  /** Changes the board as this member, by the same gate and log as a frame of his; durable when it resolves (R91). */
  edit(boardId: string, sender: Sender, edit: (ydoc: Y.Doc) => void): Promise<EditOutcome>;
  stats(): { rooms: number; connections: number; refused: number };
  /** Drains (R90); throws when something accepted could not be made durable within `patienceMs`. */
  close(patienceMs?: number): Promise<void>;
}

/** A board in memory, or on its way there. */
interface Place {
  loading: Promise<Room>;
  room: Room | null;
  idle: NodeJS.Timeout | null;
}

const drainPatience = 10_000;

export function createRooms(deps: RoomsDeps): Rooms {
  const limits: RoomLimits = { ...roomLimits, ...deps.limits };
  const now = deps.now ?? (() => new Date());
  const note = (what: string, details: Record<string, unknown>): void =>
    deps.log.info(details, what);
  const warn = (what: string, error: unknown, details = {}): void =>
    deps.log.warn({ ...details, err: error }, what);
  const store =
    deps.store ??
    prismaStore(deps.prisma, (lookId) =>
      deps.log.warn({ look: lookId }, 'a stored look cannot be read'),
    );
  const places = new Map<string, Place>();
  const connections = new Set<Connection>();
  const metrics = new RoomMetrics(deps.registry ?? new Registry(), {
    rooms: () => places.size,
    resting: () => [...openRooms()].filter(({ isResting }) => isResting).length,
    sockets: () => connections.size,
  });
  const background = new Background((error, what, board) =>
    warn(`could not ${what}`, error, { board }),
  );
  const checker = new Checker({
    threads: limits.checkThreads,
    maxWaiting: limits.maxWaitingChecks,
    patienceMs: limits.checkPatienceMs,
    keepMs: limits.keepIdleThreadMs,
    note: (what, details) => deps.log.warn(details, what),
    onChecked: (ms) => metrics.checked(ms),
  });
  const staffLooks = new StaffLooks(store);
  const quarantine = new Quarantine({ store, limits, background, metrics, note });
  const costlyUpdates = new CostlyUpdates();
  const outbox = new Outbox();
  const log = new Log({
    store,
    limits,
    onTurn: () => outbox.flush(),
    onFailure: (error, boards) => {
      metrics.commitFailed();
      warn('could not commit', error, { boards });
    },
  });
  const access = new Access(deps.prisma, deps.sessionOf, now);
  const door = new Door(limits);
  const shared: ConnectionDeps = {
    limits,
    metrics,
    outbox,
    heartbeats: new Heartbeats(limits.heartbeatMs, () =>
      boundHeldBytes(connections, limits.maxHeldBytesPerUser),
    ),
    shares: new Shares(limits.maxFullTurnsPerSecond),
    onHeartbeat: (here) => void lookAgain(here),
    onEnded(connection) {
      connections.delete(connection);
      door.left(connection.pass.userId);
    },
  };
  const fanOut = deps.servers
    ? new FanOut({
        servers: deps.servers,
        store,
        limits,
        rooms: openRooms,
        accessChanged: (change) => void decideAgainOn(change),
        reviewAccess,
        turned: (isUp) => {
          const status = deps.servers?.status();
          if (isUp) deps.log.info(status, 'Redis carries: the other servers are heard');
          else deps.log.warn(status, 'Redis is away: edits cross by the store, presence does not');
        },
        warn,
      })
    : null;
  const packer = new Packer({
    store,
    background,
    isHeld: (boardId) => closing || places.has(boardId),
    note,
  });
  let closing = false;

  function* openRooms(): Iterable<Room> {
    for (const { room } of places.values()) if (room) yield room;
  }

  function placeOf(boardId: string): Place {
    const known = places.get(boardId);
    if (known) return known;
    const place: Place = { loading: loadRoom(boardId), room: null, idle: null };
    places.set(boardId, place);
    place.loading.then(
      (room) => {
        place.room = room;
      },
      // Whoever waits for it is told; the next one loads anew.
      () => places.delete(boardId),
    );
    return place;
  }

  async function loadRoom(boardId: string): Promise<Room> {
    const loaded = await loadBoard(store, boardId);
    return new Room(loaded, {
      store,
      log,
      limits,
      background,
      checker,
      staffLooks,
      quarantine,
      costlyUpdates,
      metrics,
      outbox,
      now,
      connect: fanOut && ((listener) => fanOut.connect(boardId, listener)),
      note,
      onRest: (isAtRest) => rest(boardId, isAtRest),
      onBroken: () => drop(boardId),
      onFault: (error) => deps.log.error({ err: error, board: boardId }, 'a room broke'),
    });
  }

  function rest(boardId: string, isAtRest: boolean): void {
    const place = places.get(boardId);
    if (!place) return;
    if (place.idle) clearTimeout(place.idle);
    place.idle = isAtRest ? setTimeout(() => unload(boardId, place), limits.idleUnloadMs) : null;
  }

  function unload(boardId: string, place: Place): void {
    if (!place.room?.isAtRest) return;
    places.delete(boardId);
    if (place.room.mayBeWorthPacking) packer.soon(boardId);
    place.room.close('restarting');
  }

  /** Whoever is in it comes back to a room loaded from the store. */
  function drop(boardId: string): void {
    const place = places.get(boardId);
    places.delete(boardId);
    if (place?.idle) clearTimeout(place.idle);
    place?.room?.close('loadFailed');
  }

  /** The room of a board, kept until `use` is done with it. */
  async function inRoom<T>(boardId: string, use: (room: Room) => T | Promise<T>): Promise<T> {
    const place = placeOf(boardId);
    const room = await place.loading;
    const letGo = room.keep();
    try {
      return await use(room);
    } finally {
      letGo();
    }
  }

  /** Everything accepted is durable, what had to be judged again included. */
  async function allSettled(): Promise<void> {
    await log.idle();
    await Promise.all([...places.values()].map(({ room }) => room?.settled()));
    await log.idle();
  }

  function onSocket(socket: RoomSocket, line: Duplex, pass: Pass, requestId: string): void {
    const known = door.passOf(pass.userId);
    const own = known ? sharing(pass, known) : pass;
    const connection = new Connection(socket, line, own, requestId, shared);
    connections.add(connection);
    const entered = door.enter(own);
    if (closing) connection.refuse('restarting');
    else if (!entered) connection.refuse('tooMany');
    else void enter(connection);
  }

  async function enter(connection: Connection): Promise<void> {
    const { boardId } = connection.pass;
    try {
      await inRoom(boardId, (room) => room.join(connection));
    } catch (error) {
      if (!(error instanceof UnknownBoard))
        warn('could not load a board', error, { requestId: connection.requestId, board: boardId });
      connection.refuse(error instanceof UnknownBoard ? 'unknownBoard' : 'loadFailed');
    }
  }

  /** Announced: nothing of the member is taken from that moment until it is decided. */
  async function decideAgain(connection: Connection): Promise<void> {
    const release = connection.hold();
    try {
      await decide(connection);
    } catch (error) {
      const { requestId, pass } = connection;
      warn('could not decide on access', error, { requestId, board: pass.boardId });
      connection.refuse('storeAway');
    } finally {
      release();
    }
  }

  async function decideAgainOn(change: AccessChange): Promise<void> {
    access.changed();
    const touched = [...connections].filter(({ pass }) => concerns(change, pass));
    await Promise.all(touched.map(decideAgain));
  }

  /** Announced to another server, and not heard here (R108). */
  async function reviewAccess(): Promise<void> {
    const here = [...connections].filter(({ closed }) => !closed);
    const changed = await access.review(here.map(({ pass }) => pass));
    await Promise.all(here.filter(({ pass }) => changed.has(pass)).map(decideAgain));
  }

  /** Unannounced: whatever changed without anybody saying so comes to light. */
  async function lookAgain(connection: Connection): Promise<void> {
    const { sessionEnds, decidedAt, boardId } = connection.pass;
    const isOver = sessionEnds <= now().getTime();
    if (!isOver && now().getTime() - decidedAt < limits.accessHoldsMs) return;
    try {
      await decide(connection);
    } catch (error) {
      const { requestId } = connection;
      warn('could not look at access again', error, { requestId, board: boardId });
      if (isOver) connection.refuse('storeAway');
    }
  }

  async function decide(connection: Connection): Promise<void> {
    const { pass } = connection;
    const decision = await access.decideAgain(pass);
    if (!decision.in) {
      connection.refuse(decision.inside);
      return;
    }
    const before = connection.pass;
    connection.pass = sharing(decision.pass, before);
    if (sayDifferent(before, decision.pass)) places.get(pass.boardId)?.room?.greet(connection);
  }

  const upgrade = new Upgrade({
    access,
    door,
    limits,
    metrics,
    signedToken: deps.signedToken,
    allowsOrigin: deps.allowsOrigin,
    trustProxy: deps.trustProxy,
    isClosing: () => closing,
    onSocket,
    note,
  });

  return {
    upgrade: (req, socket, head) => void upgrade.handle(req, socket, head),

    publish(boardId, event) {
      places.get(boardId)?.room?.publish(event);
      fanOut?.publish(boardId, event);
    },

    async accessChanged(change) {
      if (Object.values(change).every((value) => value === undefined)) {
        throw new TypeError('an access change must say whose or where (R54)');
      }
      fanOut?.accessChanged(change);
      await decideAgainOn(change);
    },

    freeze: (boardId) => inRoom(boardId, (room) => room.freeze()),

    edit: (boardId, sender, edit) => inRoom(boardId, (room) => room.edit(sender, edit)),

    stats: () => ({
      rooms: places.size,
      connections: connections.size,
      refused: quarantine.refused,
    }),

    async close(patienceMs = drainPatience) {
      closing = true;
      for (const connection of connections) connection.hold();
      const drained = await within(
        patienceMs,
        allSettled().then(() => background.settled()),
      );
      log.stop();
      background.end();
      await fanOut?.quiet();
      await checker.close();
      for (const { room, idle } of places.values()) {
        if (idle) clearTimeout(idle);
        room?.close('restarting');
      }
      places.clear();
      await fanOut?.close();
      await Promise.all([...connections].map((connection) => connection.gone('restarting')));
      if (!drained)
        throw new Error('The rooms closed before everything accepted was in the store.');
    },
  };
}

/** Whether a change touches this pass: everything that it names must fit. */
function concerns(change: AccessChange, { userId, member, boardId, staffId }: Pass): boolean {
  return (
    (change.userId ?? userId) === userId &&
    (change.memberId ?? member.id) === member.id &&
    (change.boardId ?? boardId) === boardId &&
    (change.staffId ?? staffId) === staffId
  );
}

/** Whether a client has to be told. */
const sayDifferent = (a: Pass, b: Pass): boolean =>
  JSON.stringify([a.member, a.scope]) !== JSON.stringify([b.member, b.scope]);

/** Whether `work` ends within `ms`. */
function within(ms: number, work: Promise<unknown>): Promise<boolean> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => resolve(false), ms);
    work.then(() => resolve(true), reject).finally(() => clearTimeout(timer));
  });
}
