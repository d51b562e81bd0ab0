import { setImmediate } from 'node:timers/promises';
import { boardPlaySchema } from '@stemline/board/board-play';
import { project } from '@stemline/board/project';
import { lookRecipeSchema } from '@stemline/football/shelf';
import type { ArchivedBoard, StaffArchive } from '@stemline/protocol/api/archive';
import { severitySchema } from '@stemline/read-rules/finding';
import { z } from 'zod';
import type { Prisma, Transaction } from '../database.ts';
import type { Prisma as Generated } from '../generated/prisma/client.ts';
import { boardIn } from '../history/past.ts';
import { frozenFindingsSchema } from '../signoff/change-line.ts';

/** Findings that have gone, of each board; those that stand are all in it. */
const goneFindings = 500;
/** Lines of the audit trail, the latest. */
const auditLines = 100_000;

/** A whole staff at one moment, while its rooms go on. */
export async function exportStaff(
  prisma: Prisma,
  staffId: string,
  at: Date,
): Promise<StaffArchive> {
  return await prisma.$transaction(
    async (transaction) => {
      const staff = await transaction.staff.findUniqueOrThrow({
        where: { id: staffId },
        include: { looks: { orderBy: [{ order: 'asc' }, { id: 'asc' }] } },
      });
      const boards = await transaction.board.findMany({
        where: { staffId },
        include,
        orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
      });
      const nameOf = new Map(
        (
          await transaction.member.findMany({
            where: { staffId },
            select: { id: true, user: { select: { name: true } } },
          })
        ).map(({ id, user }) => [id, user.name]),
      );
      const archived: ArchivedBoard[] = [];
      for (const board of boards) {
        const maker = nameOf.get(board.createdBy) ?? board.createdBy;
        archived.push(await archivedBoard(transaction, board, maker));
      }
      const audit = await transaction.auditEvent.findMany({
        where: { staffId },
        orderBy: { id: 'desc' },
        take: auditLines,
      });
      return {
        format: 'stemline-staff',
        version: 1,
        exportedAt: at.toISOString(),
        staff: { name: staff.name },
        looks: staff.looks.map(({ recipe }) => lookRecipeSchema.parse(recipe)),
        boards: archived,
        audit: audit.reverse().map(({ at, name, what }) => ({ at: at.toISOString(), name, what })),
      };
    },
    { isolationLevel: 'RepeatableRead', timeout: 120_000 },
  );
}

const include = {
  authors: { orderBy: { element: 'asc' } },
  changes: { orderBy: [{ sentAt: 'asc' }, { id: 'asc' }], include: { version: true } },
  waivers: { orderBy: { findingId: 'asc' } },
  threads: {
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
    where: { comments: { some: { deletedAt: null } } },
    include: {
      comments: { where: { deletedAt: null }, orderBy: [{ createdAt: 'asc' }, { id: 'asc' }] },
    },
  },
} satisfies Generated.BoardInclude;
type Row = Generated.BoardGetPayload<{ include: typeof include }>;

const iso = (at: Date | null): string | null => at?.toISOString() ?? null;

async function archivedBoard(
  transaction: Transaction,
  board: Row,
  createdBy: string,
): Promise<ArchivedBoard> {
  const past = await boardIn(transaction, board.id, null);
  if (!past) throw new Error(`board ${board.id} has no first state`);
  const content = project(past.ydoc).board;
  past.ydoc.destroy();
  const standing = await transaction.findingRecord.findMany({
    where: { boardId: board.id, closedAt: null },
  });
  const gone = await transaction.findingRecord.findMany({
    where: { boardId: board.id, closedAt: { not: null } },
    orderBy: { closedAt: 'desc' },
    take: goneFindings,
  });
  const changes: ArchivedBoard['changes'] = [];
  for (const change of board.changes) {
    // Reading a full play takes a while, and a board may have been sent up hundreds of times.
    await setImmediate();
    changes.push(archivedChange(change));
  }
  return {
    content,
    createdBy,
    createdAt: board.createdAt.toISOString(),
    updatedAt: board.updatedAt.toISOString(),
    archivedAt: iso(board.archivedAt),
    authors: board.authors.map(({ element, name, at }) => ({
      element,
      name,
      at: at.toISOString(),
    })),
    changes,
    waivers: board.waivers.map(({ findingId, reason, name, at }) => ({
      findingId,
      reason,
      name,
      at: at.toISOString(),
    })),
    threads: board.threads.map((thread) => ({
      anchor: thread.anchor,
      createdAt: thread.createdAt.toISOString(),
      resolvedAt: iso(thread.resolvedAt),
      resolvedBy: thread.resolvedBy,
      comments: thread.comments.map(({ name, text, createdAt, editedAt }) => ({
        name,
        text,
        createdAt: createdAt.toISOString(),
        editedAt: iso(editedAt),
      })),
    })),
    findings: [...standing, ...gone.reverse()].map((record) => ({
      findingId: record.findingId,
      kind: record.kind,
      severity: severitySchema.parse(record.severity),
      says: record.says,
      authors: z.array(z.object({ what: z.string(), name: z.string() })).parse(record.authors),
      openedAt: record.openedAt.toISOString(),
      closedAt: iso(record.closedAt),
    })),
  };
}

const archivedChange = (change: Row['changes'][number]): ArchivedBoard['changes'][number] => ({
  state: change.state,
  content: boardPlaySchema.parse(change.play),
  hash: change.hash,
  words: z.array(z.string()).parse(change.words),
  findings: frozenFindingsSchema.parse(change.findings),
  message: change.message,
  sentBy: change.sentByName,
  sentAt: change.sentAt.toISOString(),
  decidedBy: change.decidedByName,
  decidedAt: iso(change.decidedAt),
  reply: change.reply,
  version: change.version && {
    number: change.version.number,
    author: change.version.author,
    signer: change.version.signer,
    signedAt: change.version.signedAt.toISOString(),
  },
});
