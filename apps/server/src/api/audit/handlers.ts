import { api } from '../context.ts';
import * as contract from './contract.ts';

export const audit = api().openapi(contract.list, async (c) => {
  const { prisma } = c.var.deps;
  const events = await prisma.auditEvent.findMany({
    where: { staffId: c.var.standing.staffId },
    orderBy: { id: 'desc' },
    take: 200,
  });
  const boardIds = [...new Set(events.flatMap(({ boardId }) => boardId ?? []))];
  const boards = await prisma.board.findMany({
    where: { id: { in: boardIds } },
    select: { id: true, name: true },
  });
  const nameOf = new Map(boards.map(({ id, name }) => [id, name]));
  return c.json(
    events.map(({ id, at, name, what, boardId }) => ({
      id: String(id),
      at: at.toISOString(),
      name,
      what,
      boardId,
      boardName: boardId ? (nameOf.get(boardId) ?? null) : null,
    })),
    200,
  );
});
