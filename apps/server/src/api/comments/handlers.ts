import { record } from '../../audit/audit.ts';
import type { Comment, Thread } from '../../generated/prisma/client.ts';
import { api } from '../context.ts';
import { ApiProblem } from '../problem.ts';
import * as contract from './contract.ts';

const commentLine = (comment: Comment) => ({
  id: comment.id,
  memberId: comment.memberId,
  name: comment.name,
  text: comment.text,
  createdAt: comment.createdAt.toISOString(),
  editedAt: comment.editedAt?.toISOString() ?? null,
});

const threadLine = (thread: Thread & { comments: Comment[] }) => ({
  id: thread.id,
  anchor: thread.anchor,
  createdAt: thread.createdAt.toISOString(),
  resolvedAt: thread.resolvedAt?.toISOString() ?? null,
  resolvedBy: thread.resolvedBy,
  comments: thread.comments.map(commentLine),
});

const inOrder = { comments: { orderBy: [{ createdAt: 'asc' as const }, { id: 'asc' as const }] } };

export const comments = api()
  .openapi(contract.list, async (c) => {
    const threads = await c.var.deps.prisma.thread.findMany({
      where: { boardId: c.var.board.id },
      include: inOrder,
      orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
    });
    return c.json(threads.map(threadLine), 200);
  })
  .openapi(contract.start, async (c) => {
    const { anchor, text } = c.req.valid('json');
    const { board, standing, deps } = c.var;
    const thread = await deps.prisma.$transaction(async (transaction) => {
      const made = await transaction.thread.create({
        data: {
          boardId: board.id,
          anchor,
          comments: { create: { memberId: standing.memberId, name: standing.name, text } },
        },
        include: inOrder,
      });
      await record(transaction, {
        staffId: board.staffId,
        boardId: board.id,
        by: standing,
        what: `commented on “${board.name}”`,
        detail: { thread: made.id, anchor },
      });
      return made;
    });
    await deps.rooms.publish(board.id, { kind: 'comments' });
    return c.json(threadLine(thread), 201);
  })
  .openapi(contract.reply, async (c) => {
    const { board, standing, deps } = c.var;
    const { thread: threadId } = c.req.valid('param');
    const { text } = c.req.valid('json');
    const comment = await deps.prisma.$transaction(async (transaction) => {
      const made = await transaction.comment.create({
        data: { threadId, memberId: standing.memberId, name: standing.name, text },
      });
      await record(transaction, {
        staffId: board.staffId,
        boardId: board.id,
        by: standing,
        what: `replied on “${board.name}”`,
        detail: { thread: threadId },
      });
      return made;
    });
    await deps.rooms.publish(board.id, { kind: 'comments' });
    return c.json(commentLine(comment), 201);
  })
  .openapi(contract.reword, async (c) => {
    const { board, standing, deps } = c.var;
    const { comment: id } = c.req.valid('param');
    const { text } = c.req.valid('json');
    const comment = await deps.prisma.$transaction(async (transaction) => {
      const before = await transaction.comment.findUniqueOrThrow({ where: { id } });
      if (before.memberId !== standing.memberId) {
        throw new ApiProblem(
          'notAllowed',
          `${before.name} wrote this, and nobody else rewords it.`,
        );
      }
      if (before.text === text) return before;
      await record(transaction, {
        staffId: board.staffId,
        boardId: board.id,
        by: standing,
        what: `reworded a comment on “${board.name}”`,
        detail: { thread: before.threadId, comment: id, was: before.text },
      });
      return await transaction.comment.update({
        where: { id },
        data: { text, editedAt: new Date() },
      });
    });
    await deps.rooms.publish(board.id, { kind: 'comments' });
    return c.json(commentLine(comment), 200);
  })
  .openapi(contract.resolve, async (c) => {
    const { board, standing, deps } = c.var;
    const { thread: threadId } = c.req.valid('param');
    const { resolved } = c.req.valid('json');
    await deps.prisma.$transaction(async (transaction) => {
      const changed = await transaction.thread.updateMany({
        where: { id: threadId, resolvedAt: resolved ? null : { not: null } },
        data: resolved
          ? { resolvedAt: new Date(), resolvedBy: standing.name }
          : { resolvedAt: null, resolvedBy: null },
      });
      // Somebody else did it first: it stands as he did it.
      if (changed.count === 0) return;
      await record(transaction, {
        staffId: board.staffId,
        boardId: board.id,
        by: standing,
        what: `${resolved ? 'resolved' : 'reopened'} a comment on “${board.name}”`,
        detail: { thread: threadId },
      });
    });
    await deps.rooms.publish(board.id, { kind: 'comments' });
    return c.body(null, 204);
  });
