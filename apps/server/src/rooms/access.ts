import { isDeepStrictEqual } from 'node:util';
import type { EditScope } from '@stemline/board/edit-scope';
import { may } from '@stemline/protocol/permissions';
import type { Group, Role } from '@stemline/protocol/roles';
import { editScope } from '@stemline/protocol/scope';
import type { SessionOf } from '../accounts/session.ts';
import type { Prisma } from '../database.ts';
import type { Refusal } from './refusal.ts';
import { type Asked, type Standing, standingsOf } from './standing-sql.ts';

/** What one person may do on one board, as it was when it was decided. */
export interface Pass {
  boardId: string;
  staffId: string;
  userId: string;
  member: { id: string; name: string; role: Role; group: Group };
  scope: EditScope;
  sessionId: string;
  /** When his session runs out by itself, and when this was decided: milliseconds of the clock. */
  sessionEnds: number;
  decidedAt: number;
}

/** `pass`, with what it has in common with `known` held once for both: there may be thousands. */
export const sharing = (pass: Pass, known: Pass): Pass => ({
  ...pass,
  boardId: once(pass.boardId, known.boardId),
  staffId: once(pass.staffId, known.staffId),
  userId: once(pass.userId, known.userId),
  sessionId: once(pass.sessionId, known.sessionId),
  member: isDeepStrictEqual(pass.member, known.member) ? known.member : pass.member,
});

const once = (text: string, known: string): string => (text === known ? known : text);

export type Decision =
  | { in: true; pass: Pass }
  /** Why, to somebody at the door, and to somebody who was in until now. */
  | { in: false; atDoor: Refusal; inside: Refusal };

const out = (atDoor: Refusal, inside: Refusal = atDoor): Decision => ({
  in: false,
  atDoor,
  inside,
});

const scopeOf = (
  { archivedAt, letIn }: Pick<Standing, 'archivedAt' | 'letIn'>,
  { role, group }: { role: Role; group: Group },
): EditScope => (archivedAt ? { kind: 'none' } : editScope({ role, group, letIn }));

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

  decideAtDoor(headers: Headers, boardId: string): Promise<Decision> {
    return this.#atRest(async () => {
      const signedIn = await this.#sessionOf(headers);
      if (!signedIn) return out('notSignedIn');
      const { user, session } = signedIn;
      return this.#decide({ boardId, userId: user.id, sessionId: session.id });
    });
  }

  /** What the same session comes to by now. */
  decideAgain(pass: Pass): Promise<Decision> {
    return this.#atRest(() => this.#decide(pass));
  }

  /** Those of these passes that say something else than the store does now; asked for all at once. */
  async review(passes: readonly Pass[]): Promise<ReadonlySet<Pass>> {
    if (passes.length === 0) return new Set();
    const standings = await standingsOf(this.#database, passes);
    const at = this.#now().getTime();
    return new Set(
      passes.filter(({ member, scope }, i) => {
        const board = standings[i];
        const now = board?.member;
        if (!board?.session || board.session.ends <= at || !now || !may(now.role, 'board.open'))
          return true;
        return (
          now.role !== member.role ||
          now.group !== member.group ||
          JSON.stringify(scopeOf(board, now)) !== JSON.stringify(scope)
        );
      }),
    );
  }

  /** A decision during which nothing was announced to have changed. */
  async #atRest(decide: () => Promise<Decision>): Promise<Decision> {
    for (;;) {
      const epoch = this.#epoch;
      const decision = await decide();
      if (epoch === this.#epoch) return decision;
    }
  }

  async #decide({ boardId, userId, sessionId }: Asked): Promise<Decision> {
    const [board] = await standingsOf(this.#database, [{ boardId, userId, sessionId }]);
    if (!board) return out('unknownBoard');
    const { member, session } = board;
    const now = this.#now().getTime();
    if (!session || session.ends <= now) return out('notSignedIn');
    // Another staff's board and no board look alike from outside.
    if (!member) return out('unknownBoard', 'accessEnded');
    if (!may(member.role, 'board.open')) return out('notAllowed', 'accessEnded');
    return {
      in: true,
      pass: {
        boardId,
        staffId: board.staffId,
        userId,
        member: { id: member.id, role: member.role, group: member.group, name: session.userName },
        scope: scopeOf(board, member),
        sessionId,
        sessionEnds: session.ends,
        decidedAt: now,
      },
    };
  }
}
