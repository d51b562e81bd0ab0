import type { Standing } from '../../accounts/standing.ts';
import { record } from '../../audit/audit.ts';
import { lockBoard, type Transaction } from '../../database.ts';
import type { Comment, Thread } from '../../generated/prisma/client.ts';
import { api } from '../context.ts';
import { mustFit } from '../full.ts';
import { ApiProblem } from '../problem.ts';
import * as contract from './contract.ts';

const commentLine = (comment: Comment) => ({
  id: comment.id,
  memberId: comment.memberId,
  name: comment.name,
  text: comment.text,
  createdAt: comment.createdAt.toISOString(),
  editedAt: comment.editedAt?.toISOString() ?? null,
  deletedAt: comment.deletedAt?.toISOString() ?? null,
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

/** A comment that this member wrote, its thread locked until the transaction ends; 403 if another did. */
async function ownComment(
  transaction: Transaction,
  id: string,
  standing: Standing,
  verb: 'rewords' | 'deletes',
): Promise<Comment> {
  await transaction.$queryRaw`
    SELECT t.id FROM "Thread" t JOIN "Comment" c ON c."threadId" = t.id WHERE c.id = ${id} FOR UPDATE OF t`;
  const comment = await transaction.comment.findUniqueOrThrow({ where: { id } });
  if (comment.memberId === standing.memberId) return comment;
  throw new ApiProblem('notAllowed', `${comment.name} wrote this, and nobody else ${verb} it.`);
}

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
      await lockBoard(transaction, board.id);
      mustFit('threads', await transaction.thread.count({ where: { boardId: board.id } }));
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
      await transaction.$queryRaw`SELECT 1 FROM "Thread" WHERE id = ${threadId} FOR NO KEY UPDATE`;
      mustFit('comments', await transaction.comment.count({ where: { threadId } }));
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
      const before = await ownComment(transaction, id, standing, 'rewords');
      if (before.deletedAt) {
        throw new ApiProblem('conflict', 'This comment has been deleted.', {
          mend: 'Write a new one.',
        });
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
  .openapi(contract.remove, async (c) => {
    const { board, standing, deps } = c.var;
    const { comment: id } = c.req.valid('param');
    await deps.prisma.$transaction(async (transaction) => {
      const { threadId, deletedAt, text } = await ownComment(transaction, id, standing, 'deletes');
      if (deletedAt) return;
      const now = new Date();
      await transaction.comment.update({ where: { id }, data: { text: '', deletedAt: now } });
      await transaction.thread.updateMany({
        where: {
          id: threadId,
          resolvedAt: null,
          comments: { every: { deletedAt: { not: null } } },
        },
        data: { resolvedAt: now, resolvedBy: standing.name },
      });
      await record(transaction, {
        staffId: board.staffId,
        boardId: board.id,
        by: standing,
        what: `deleted a comment on “${board.name}”`,
        detail: { thread: threadId, comment: id, was: text },
      });
    });
    await deps.rooms.publish(board.id, { kind: 'comments' });
    return c.body(null, 204);
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
