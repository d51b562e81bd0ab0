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

  async #decide(headers: Headers, boardId: string): Promise<Decision> {
    const signedIn = await this.#sessionOf(headers);
    if (!signedIn) return out('notSignedIn');
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
    if (!board) return out('unknownBoard');
    // Another staff's board and no board look alike from outside.
    if (!member) return out('unknownBoard', 'accessEnded');
    if (!may(member.role, 'board.open')) return out('notAllowed', 'accessEnded');
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
        decidedAt: this.#now(),
      },
    };
  }
}
