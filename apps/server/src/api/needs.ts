import { type Action, may } from '@stemline/protocol/permissions';
import { lacksRight } from '@stemline/protocol/right-words';
import type { MiddlewareHandler } from 'hono';
import { createMiddleware } from 'hono/factory';
import type { SignedIn } from '../accounts/session.ts';
import { type Standing, standingOn } from '../accounts/standing.ts';
import type { AppEnv, Deps } from './context.ts';
import { ApiProblem, notFound } from './problem.ts';

/** The board a request is about. */
export interface BoardHere {
  id: string;
  staffId: string;
  name: string;
  createdAt: Date;
  archivedAt: Date | null;
}

type With<Variables> = AppEnv & { Variables: Variables };
type OnStaff = With<{ standing: Standing }>;
type OnBoard = With<{ standing: Standing; board: BoardHere }>;

/**
 * Who a route is for, decided before anything of the request is read: spread one of these into the
 * route. 401 without a session; 404 when the thing is not there or is another staff's, which look
 * alike; 403 when the member's role does not have the right.
 */
export const needs = {
  signedIn: () =>
    guard(
      null,
      createMiddleware<With<{ signedIn: SignedIn }>>(async (c, next) => {
        c.set('signedIn', await signedIn(c.var.deps, c.req.raw));
        await next();
      }),
    ),
  staff: (action: Action) =>
    guard(
      action,
      createMiddleware<OnStaff>(async (c, next) => {
        const { user } = await signedIn(c.var.deps, c.req.raw);
        const id = c.req.param('staff');
        const standing = id && isId(id) ? await standingOn(c.var.deps.prisma, user, id) : null;
        if (!standing) throw notFound('staff');
        checkRight(standing, action);
        c.set('standing', standing);
        await next();
      }),
    ),
  board: (action: Action) => onBoard(action, 'board', async (_, id) => id),
  thread: (action: Action) =>
    onBoard(
      action,
      'thread',
      async ({ prisma }, id) =>
        (await prisma.thread.findUnique({ where: { id }, select: { boardId: true } }))?.boardId,
    ),
  comment: (action: Action) =>
    onBoard(
      action,
      'comment',
      async ({ prisma }, id) =>
        (
          await prisma.comment.findUnique({
            where: { id },
            select: { thread: { select: { boardId: true } } },
          })
        )?.thread.boardId,
    ),
  change: (action: Action) =>
    onBoard(
      action,
      'change',
      async ({ prisma }, id) =>
        (await prisma.installChange.findUnique({ where: { id }, select: { boardId: true } }))
          ?.boardId,
    ),
  version: (action: Action) =>
    onBoard(
      action,
      'version',
      async ({ prisma }, id) =>
        (await prisma.version.findUnique({ where: { id }, select: { boardId: true } }))?.boardId,
    ),
};

/** The cookie, as /openapi.json names it. */
export const sessionScheme = 'session';

function guard<Middleware extends MiddlewareHandler>(
  action: Action | null,
  middleware: Middleware,
) {
  return {
    middleware,
    security: [{ [sessionScheme]: [] }],
    /** For readers of the API's description and for the test that walks every route. */
    'x-right': action,
  };
}

/** `param` names the thing in the path and in words; `boardOf` finds the board it belongs to. */
function onBoard(
  action: Action,
  param: 'board' | 'thread' | 'comment' | 'change' | 'version',
  boardOf: (deps: Deps, id: string) => Promise<string | undefined>,
) {
  return guard(
    action,
    createMiddleware<OnBoard>(async (c, next) => {
      const { user } = await signedIn(c.var.deps, c.req.raw);
      const id = c.req.param(param);
      const boardId = id && isId(id) ? await boardOf(c.var.deps, id) : undefined;
      const board = boardId
        ? await c.var.deps.prisma.board.findUnique({
            where: { id: boardId },
            select: { id: true, staffId: true, name: true, createdAt: true, archivedAt: true },
          })
        : null;
      const standing = board ? await standingOn(c.var.deps.prisma, user, board.staffId) : null;
      if (!board || !standing) throw notFound(param);
      checkRight(standing, action);
      c.set('standing', standing);
      c.set('board', board);
      await next();
    }),
  );
}

async function signedIn({ sessionOf }: Deps, request: Request): Promise<SignedIn> {
  const found = await sessionOf(request.headers);
  if (!found) throw new ApiProblem('notSignedIn', 'Nobody is signed in with this request.');
  return found;
}

/**
 * Of who is not signed in no body is read but that of a sign-in or a sign-up: reading takes time. What this
 * finds is not kept for the guards after it: a body may be on its way for minutes, and the session end meanwhile.
 */
export const bodiesOfTheSignedIn = createMiddleware<AppEnv>(async (c, next) => {
  if (c.req.raw.body && !c.req.path.startsWith('/api/auth/')) await signedIn(c.var.deps, c.req.raw);
  await next();
});

export function checkRight(standing: Standing, action: Action): void {
  if (may(standing.role, action)) return;
  throw new ApiProblem('notAllowed', lacksRight(standing.role, action), { right: action });
}

/** Ids are the database's; anything else cannot be there (and a NUL would upset the database). */
const isId = (id: string): boolean => /^[A-Za-z0-9_-]{1,40}$/.test(id);
