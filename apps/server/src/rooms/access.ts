import type { EditScope } from '@stemline/board/edit-scope';
import { may } from '@stemline/protocol/permissions';
import type { Group, Role } from '@stemline/protocol/roles';
import { editScope } from '@stemline/protocol/scope';
import type { SessionOf } from '../accounts/session.ts';
import type { Prisma } from '../database.ts';
import type { Prisma as Generated } from '../generated/prisma/client.ts';
import type { Refusal } from './refusal.ts';

/** What one person may do on one board, as it was when it was decided. */
export interface Pass {
  boardId: string;
  staffId: string;
  userId: string;
  member: { id: string; name: string; role: Role; group: Group };
  scope: EditScope;
  sessionId: string;
  /** When his session runs out by itself. */
  sessionEnds: Date;
  decidedAt: Date;
}

export type Decision =
  | { in: true; pass: Pass }
  /** Why, to somebody at the door, and to somebody who was in until now. */
  | { in: false; atDoor: Refusal; inside: Refusal };

const out = (atDoor: Refusal, inside: Refusal = atDoor): Decision => ({
  in: false,
  atDoor,
  inside,
});

/** What decides on a board: its state, and who of these people stands where. */
const standingOf = (users: string[]) =>
  ({
    staffId: true,
    archivedAt: true,
    letIn: { where: { member: { userId: { in: users } } }, select: { memberId: true } },
    staff: {
      select: {
        members: {
          where: { userId: { in: users }, removedAt: null },
          select: { id: true, userId: true, role: true, group: true },
        },
      },
    },
  }) satisfies Generated.BoardSelect;

const scopeOf = (
  { archivedAt, letIn }: { archivedAt: Date | null; letIn: readonly { memberId: string }[] },
  { id, role, group }: { id: string; role: Role; group: Group },
): EditScope =>
  archivedAt
    ? { kind: 'none' }
    : editScope({ role, group, letIn: letIn.some(({ memberId }) => memberId === id) });

/** Decides from the store who may be in a room; asked at the door and whenever access changes. */
export class Access {
  readonly #database: Prisma;
  readonly #sessionOf: SessionOf;
  readonly #now: () => Date;
  /** Counts announced changes. */
  #epoch = 0;

  constructor(database: Prisma, sessionOf: SessionOf, now: () => Date) {
    this.#database = database;
    this.#sessionOf = sessionOf;
    this.#now = now;
  }

  /** Somebody's access changed: what is being decided now may rest on what was before. */
  changed(): void {
    this.#epoch += 1;
  }

  /** A decision during which nothing was announced to have changed. */
  async decideAtRest(headers: Headers, boardId: string): Promise<Decision> {
    for (;;) {
      const epoch = this.#epoch;
      const decision = await this.#decide(headers, boardId);
      if (epoch === this.#epoch) return decision;
    }
  }

  /** Those of these passes that say something else than the store does now; asked for all at once. */
  async review(passes: readonly Pass[]): Promise<ReadonlySet<Pass>> {
    if (passes.length === 0) return new Set();
    const only = (of: (pass: Pass) => string): string[] => [...new Set(passes.map(of))];
    const [sessions, boards] = await Promise.all([
      this.#database.session.findMany({
        where: { id: { in: only(({ sessionId }) => sessionId) } },
        select: { id: true },
      }),
      this.#database.board.findMany({
        where: { id: { in: only(({ boardId }) => boardId) } },
        select: { id: true, ...standingOf(only(({ userId }) => userId)) },
      }),
    ]);
    const running = new Set(sessions.map(({ id }) => id));
    const byId = new Map(boards.map((board) => [board.id, board]));
    return new Set(
      passes.filter(({ sessionId, boardId, userId, member, scope }) => {
        const board = byId.get(boardId);
        const now = board?.staff.members.find((one) => one.userId === userId);
        if (!running.has(sessionId) || !board || !now || !may(now.role, 'board.open')) return true;
        return (
          now.role !== member.role ||
          now.group !== member.group ||
          JSON.stringify(scopeOf(board, now)) !== JSON.stringify(scope)
        );
      }),
    );
  }

  async #decide(headers: Headers, boardId: string): Promise<Decision> {
    const signedIn = await this.#sessionOf(headers);
    if (!signedIn) return out('notSignedIn');
    const { user, session } = signedIn;
    const board = await this.#database.board.findUnique({
      where: { id: boardId },
      select: standingOf([user.id]),
    });
    const member = board?.staff.members[0];
    if (!board) return out('unknownBoard');
    // Another staff's board and no board look alike from outside.
    if (!member) return out('unknownBoard', 'accessEnded');
    if (!may(member.role, 'board.open')) return out('notAllowed', 'accessEnded');
    return {
      in: true,
      pass: {
        boardId,
        staffId: board.staffId,
        userId: user.id,
        member: { id: member.id, role: member.role, group: member.group, name: user.name },
        scope: scopeOf(board, member),
        sessionId: session.id,
        sessionEnds: session.expiresAt,
        decidedAt: this.#now(),
      },
    };
  }
}
