import type { HttpBindings } from '@hono/node-server';
import { OpenAPIHono } from '@hono/zod-openapi';
import type { BoardPlay } from '@stemline/board/board-play';
import type { LiveFinding, RoomEvent } from '@stemline/protocol/message';
import type { Logger } from 'pino';
import type { Auth } from '../accounts/auth.ts';
import type { SessionOf } from '../accounts/session.ts';
import type { ServersStatus } from '../bus/servers.ts';
import type { Prisma } from '../database.ts';
import type { Metrics } from '../http/metrics.ts';
import type { Rooms } from '../rooms/rooms.ts';
import { unfitting } from './problem.ts';

/** What the API asks of the rooms. */
export interface BoardRooms {
  /** Tells everybody in a board's room that something beside its document changed. */
  publish(boardId: string, event: RoomEvent): void | Promise<void>;
  /** Has the rooms decide again who may be in them. Names at least one of these. */
  accessChanged(change: {
    userId?: string;
    memberId?: string;
    boardId?: string;
    staffId?: string;
  }): void | Promise<void>;
  /** The board exactly as it is durable now, with the findings of that very state. */
  freeze(boardId: string): Promise<{ content: BoardPlay; findings: readonly LiveFinding[] }>;
  /** Changes the board as a member, by the gate and log of his own edits; durable when it resolves. */
  edit: Rooms['edit'];
}

/** What the handlers work with. */
export interface Deps {
  prisma: Prisma;
  auth: Auth;
  sessionOf: SessionOf;
  rooms: BoardRooms;
  log: Logger;
  metrics: Metrics;
  /** Null while the database can be reached and has every migration of this build; else why not. */
  unready: () => Promise<string | null>;
  /** How this server hears the others on its store; null: it is the only one. */
  otherServers: () => ServersStatus | null;
  /** Origins under which browsers reach us; null: whichever a request was sent to. */
  publicUrl: readonly string[] | null;
  trustProxy: boolean;
  requestsPerMinute: number;
  /** Sign-ins, sign-ups and new passwords that one address may try in a minute. */
  signInsPerMinute: number;
  /** Folder of the built web app; null serves the API alone. */
  webFolder: string | null;
}

export interface AppEnv {
  Bindings: Partial<HttpBindings>;
  Variables: { deps: Deps; requestId: string; address: string };
}

/** A part of the API: input that does not fit its contract is answered with every place named. */
export const api = () =>
  new OpenAPIHono<AppEnv>({
    defaultHook: (result) => {
      if (result.success) return;
      throw unfitting(result.target === 'json' ? 'body' : result.target, result.error.issues);
    },
  });
