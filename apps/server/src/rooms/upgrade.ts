import { Buffer } from 'node:buffer';
import { randomBytes } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';
import { WebSocketServer } from 'ws';
import type { SignedToken } from '../accounts/session.ts';
import { answerOnSocket } from '../http/answer-on-socket.ts';
import type { OriginCheck } from '../http/origin.ts';
import type { Access, Pass } from './access.ts';
import { callerOf, type Door } from './door.ts';
import type { RoomLimits } from './limits.ts';
import type { RoomMetrics } from './metrics.ts';
import { problemOf, type Refusal, refusals } from './refusal.ts';
import { RoomSocket } from './socket.ts';
import { TurnedAway } from './turned-away.ts';

export interface UpgradeDeps {
  access: Access;
  door: Door;
  limits: RoomLimits;
  signedToken: SignedToken;
  metrics: RoomMetrics;
  allowsOrigin: OriginCheck;
  trustProxy: boolean;
  isClosing: () => boolean;
  onSocket: (socket: RoomSocket, line: Duplex, pass: Pass, requestId: string) => void;
  note: (what: string, details: Record<string, unknown>) => void;
}

/** What the log says of a request for a socket. */
interface Asked {
  requestId: string;
  board: string;
  address: string;
}

/** How long a client may take to answer a close before its socket is cut, milliseconds. */
const closePatience = 3_000;
/** Pieces of one message. Each is work and none is counted; a browser sends a megabyte in far fewer. */
const maxFragments = 256;
/** Pieces in which a frame may come off the line: each takes a kilobyte, were it a byte; a megabyte has 800 over a mobile line. */
const maxBufferedChunks = 2_048;
/** Refusals that end a socket rather than the handshake, so that a plain client stops (R12). */
const onSocket: ReadonlySet<Refusal> = new Set([
  'notSignedIn',
  'notAllowed',
  'unknownBoard',
  'tooMany',
]);
/** One for all sockets: one of a request's own would keep the whole request as long as its socket. */
const ignored = (): void => undefined;
/** A text by itself: a part of another keeps the whole of it, one put together keeps its parts, as long as it lives. */
const inOnePiece = (text: string): string => Buffer.from(text, 'latin1').toString('latin1');
/** Enough that none is drawn twice, and shorter than a UUID: every socket keeps its own. */
const requestIdBytes = 12;
const roomPath = /^\/rooms\/([A-Za-z0-9_-]{1,40})$/;

/** Decides who gets a socket, before there is one. SPEC R10 to R15. */
export class Upgrade {
  readonly #deps: UpgradeDeps;
  readonly #server;

  constructor(deps: UpgradeDeps) {
    this.#deps = deps;
    const options = {
      noServer: true,
      clientTracking: false,
      perMessageDeflate: false,
      maxPayload: deps.limits.maxFrameBytes,
      maxFragments,
      maxBufferedChunks,
      closeTimeout: closePatience,
      WebSocket: RoomSocket,
    };
    this.#server = new WebSocketServer(options);
    this.#server.on('wsClientError', (_error, socket) => this.#answer(socket, 'malformed'));
  }

  async handle(req: IncomingMessage, socket: Duplex, head: Buffer): Promise<void> {
    // Without a listener a reset during the decision would end the process; the answer then finds a closed socket.
    socket.on('error', ignored);
    const early = this.#refuseUnseen(req);
    if (early) {
      this.#answer(socket, early);
      return;
    }
    const asked: Asked = {
      requestId: randomBytes(requestIdBytes).toString('base64url'),
      board: inOnePiece(roomPath.exec(pathOf(req))?.[1] ?? ''),
      address: this.#addressOf(req),
    };
    try {
      await this.#decide(req, socket, head, asked);
    } catch (error) {
      const { requestId, board } = asked;
      this.#deps.note('cannot decide at the door', { requestId, board, err: error });
      this.#answer(socket, 'storeAway');
    }
  }

  async #decide(req: IncomingMessage, socket: Duplex, head: Buffer, asked: Asked): Promise<void> {
    const { access, door, note, onSocket, signedToken } = this.#deps;
    const token = await signedToken(req.headers.cookie);
    const caller = callerOf(asked.address, token);
    const turnAway = (refusal: Refusal): void => {
      door.refused(caller);
      note('refused at the door', { ...asked, refusal });
      this.#refuse(req, socket, head, refusal);
    };
    if (door.isTired(caller)) this.#answer(socket, 'tooMany');
    else if (token === null) turnAway('notSignedIn');
    else if (!door.begin()) this.#answer(socket, 'busy');
    else {
      await door.turn();
      try {
        if (socket.destroyed) return;
        const decision = await access.decideAtDoor(headersOf(req), asked.board);
        if (!decision.in) turnAway(decision.atDoor);
        else
          this.#accept(req, socket, head, (opened) =>
            onSocket(opened, socket, decision.pass, asked.requestId),
          );
      } finally {
        door.decided();
      }
    }
  }

  #refuseUnseen(req: IncomingMessage): Refusal | null {
    const { isClosing, allowsOrigin } = this.#deps;
    if (isClosing()) return 'restarting';
    if (req.method !== 'GET' || req.headers.upgrade?.toLowerCase() !== 'websocket')
      return 'malformed';
    if (!roomPath.test(pathOf(req))) return 'unknownPath';
    const { origin } = req.headers;
    if (origin !== undefined && !allowsOrigin(origin, req.headers.host)) return 'foreignOrigin';
    return null;
  }

  #refuse(req: IncomingMessage, socket: Duplex, head: Buffer, refusal: Refusal): void {
    if (!onSocket.has(refusal)) {
      this.#answer(socket, refusal);
      return;
    }
    this.#deps.metrics.refusedAtDoor(refusal);
    this.#accept(req, socket, head, (opened) => {
      opened.belongTo(new TurnedAway(opened));
      opened.close(refusals[refusal].close, refusals[refusal].title);
    });
  }

  #answer(socket: Duplex, refusal: Refusal): void {
    this.#deps.metrics.refusedAtDoor(refusal);
    answerOnSocket(socket, problemOf(refusal));
  }

  #accept(
    req: IncomingMessage,
    socket: Duplex,
    head: Buffer,
    opened: (socket: RoomSocket) => void,
  ): void {
    if (socket.destroyed) return;
    this.#server.handleUpgrade(req, socket, head, (accepted) => {
      // From here on ws listens itself.
      socket.off('error', ignored);
      opened(accepted);
    });
  }

  #addressOf(req: IncomingMessage): string {
    const forwarded = this.#deps.trustProxy ? req.headers['x-forwarded-for'] : undefined;
    const last = [forwarded ?? []].flat().join(',').split(',').at(-1)?.trim();
    return last || (req.socket.remoteAddress ?? 'unknown');
  }
}

const pathOf = (req: IncomingMessage): string => (req.url ?? '').split('?', 1)[0] ?? '';

function headersOf(req: IncomingMessage): Headers {
  const headers = new Headers();
  for (const [name, value] of Object.entries(req.headers)) {
    for (const each of [value ?? []].flat()) headers.append(name, each);
  }
  return headers;
}
