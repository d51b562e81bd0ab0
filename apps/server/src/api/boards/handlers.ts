import { boardPlaySchema } from '@stemline/board/board-play';
import { may } from '@stemline/protocol/permissions';
import { editScope } from '@stemline/protocol/scope';
import { z } from 'zod';
import { archiveBoard } from '../../boards/archive-board.ts';
import { signedBook, workingBook } from '../../boards/book.ts';
import { createBoard } from '../../boards/create-board.ts';
import { duplicateBoard } from '../../boards/duplicate-board.ts';
import { letIn, letInList } from '../../boards/let-in.ts';
import { api, type Deps } from '../context.ts';
import { notFound } from '../problem.ts';
import * as contract from './contract.ts';

const authorsSchema = z.array(z.object({ what: z.string(), name: z.string() }));

/** The rule check comes with the room: a board has its findings in the book before anybody opens it. */
const checkFirst = ({ rooms }: Deps, boardId: string) => rooms.freeze(boardId);

export const boards = api()
  .openapi(contract.list, async (c) => {
    const { staffId, role } = c.var.standing;
    const book = may(role, 'board.open') ? workingBook : signedBook;
    return c.json(await book(c.var.deps.prisma, staffId, c.req.valid('query')), 200);
  })
  .openapi(contract.create, async (c) =>
    c.json({ id: await createBoard(c.var.deps.prisma, c.var.standing, c.req.valid('json')) }, 201),
  )
  .openapi(contract.read, async (c) => {
    const { prisma } = c.var.deps;
    const { board, standing } = c.var;
    const [staff, signed, entry] = await Promise.all([
      prisma.staff.findUniqueOrThrow({ where: { id: board.staffId }, select: { name: true } }),
      prisma.version.findFirst({ where: { boardId: board.id }, orderBy: { number: 'desc' } }),
      prisma.letIn.findUnique({
        where: { boardId_memberId: { boardId: board.id, memberId: standing.memberId } },
      }),
    ]);
    const opens = may(standing.role, 'board.open');
    // To a player a board begins with its first sign-off, and is called what was signed off.
    if (!opens && !signed) throw notFound('board');
    const name = !opens && signed ? boardPlaySchema.parse(signed.play).play.name : board.name;
    const scope = editScope({ role: standing.role, group: standing.group, letIn: entry !== null });
    return c.json(
      {
        id: board.id,
        staffId: board.staffId,
        staffName: staff.name,
        name,
        archivedAt: board.archivedAt?.toISOString() ?? null,
        createdAt: board.createdAt.toISOString(),
        member: {
          id: standing.memberId,
          name: standing.name,
          role: standing.role,
          group: standing.group,
        },
        mayEdit: board.archivedAt === null && scope.kind !== 'none',
      },
      200,
    );
  })
  .openapi(contract.archive, async (c) => {
    const { board, standing, deps } = c.var;
    const { archived } = c.req.valid('json');
    if (await archiveBoard(deps.prisma, standing, board, archived)) {
      await deps.rooms.accessChanged({ boardId: board.id });
    }
    return c.body(null, 204);
  })
  .openapi(contract.duplicate, async (c) => {
    const { board, standing, deps } = c.var;
    const { content } = await deps.rooms.freeze(board.id);
    const id = await duplicateBoard(
      deps.prisma,
      standing,
      { id: board.id, name: board.name, content },
      c.req.valid('json').name,
    );
    await checkFirst(deps, id);
    return c.json({ id }, 201);
  })
  .openapi(contract.letInList, async (c) =>
    c.json(await letInList(c.var.deps.prisma, c.var.board), 200),
  )
  .openapi(contract.letIn, async (c) => {
    const wish = c.req.valid('json');
    await letIn(c.var.deps.prisma, c.var.standing, c.var.board, wish);
    await c.var.deps.rooms.accessChanged({ boardId: c.var.board.id, memberId: wish.memberId });
    return c.body(null, 204);
  })
  .openapi(contract.findingHistory, async (c) => {
    const records = await c.var.deps.prisma.findingRecord.findMany({
      where: { boardId: c.var.board.id },
      orderBy: { openedAt: 'desc' },
      take: 500,
    });
    return c.json(
      records.map(({ id, findingId, kind, severity, says, authors, openedAt, closedAt }) => ({
        id,
        findingId,
        kind,
        severity,
        says,
        authors: authorsSchema.parse(authors),
        openedAt: openedAt.toISOString(),
        closedAt: closedAt?.toISOString() ?? null,
      })),
      200,
    );
  });
