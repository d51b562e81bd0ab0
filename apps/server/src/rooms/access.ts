import type { EditScope } from '@stemline/board/edit-scope';
import { may } from '@stemline/protocol/permissions';
import type { Group, Role } from '@stemline/protocol/roles';
import { editScope } from '@stemline/protocol/scope';
import type { SessionOf } from '../accounts/session.ts';
import type { Prisma } from '../database.ts';
import type { Refusal } from './refusal.ts';

/** What one person may do on one board, as it was when it was decided. */
export interface Pass {
  boardId: string;
  staffId: string;
  userId: string;
  member: { id: string; name: string; role: Role; group: Group };
  scope: EditScope;
  /** When his session runs out by itself. */
  sessionEnds: Date;
}

export type Decision = { in: true; pass: Pass } | { in: false; refusal: Refusal };

/** Decides from the store who may be in a room; asked at the door and whenever access changes. */
export class Access {
  readonly #database: Prisma;
  readonly #sessionOf: SessionOf;

  constructor(database: Prisma, sessionOf: SessionOf) {
    this.#database = database;
    this.#sessionOf = sessionOf;
  }

  async decide(headers: Headers, boardId: string): Promise<Decision> {
    const signedIn = await this.#sessionOf(headers);
    if (!signedIn) return { in: false, refusal: 'notSignedIn' };
    const { user, session } = signedIn;
    const board = await this.#database.board.findUnique({
      where: { id: boardId },
      select: {
        staffId: true,
        archivedAt: true,
        letIn: { where: { member: { userId: user.id } }, select: { memberId: true } },
        staff: {
          select: {
            members: {
              where: { userId: user.id, removedAt: null },
              select: { id: true, role: true, group: true },
            },
          },
        },
      },
    });
    const member = board?.staff.members[0];
    // Another staff's board and no board look alike from outside.
    if (!board || !member) return { in: false, refusal: 'unknownBoard' };
    if (!may(member.role, 'board.open')) return { in: false, refusal: 'notAllowed' };
    const letIn = board.letIn.some((entry) => entry.memberId === member.id);
    const scope: EditScope = board.archivedAt
      ? { kind: 'none' }
      : editScope({ role: member.role, group: member.group, letIn });
    return {
      in: true,
      pass: {
        boardId,
        staffId: board.staffId,
        userId: user.id,
        member: { ...member, name: user.name },
        scope,
        sessionEnds: session.expiresAt,
      },
    };
  }
}
