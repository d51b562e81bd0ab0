import { formationName } from '@stemline/football/formation-name';
import type { ArchivedBoard } from '@stemline/protocol/api/archive';
import type { Membership } from '@stemline/protocol/api/staffs';
import { roomForStaff } from '../accounts/found-staff.ts';
import { record } from '../audit/audit.ts';
import { type Prisma, type Transaction, toJson } from '../database.ts';
import type { ReadArchive } from './reading/read-archive.ts';
import type { ReadBoard } from './reading/said.ts';

/** Stands for the member id of somebody who is no member here; his name is kept beside it. */
const fromElsewhere = 'imported';

/**
 * A new staff that holds what an archive holds, with whoever imports it as its head coach. Every id but
 * those inside the plays is new; people are names.
 */
export async function importStaff(
  prisma: Prisma,
  user: { id: string; name: string },
  { head, boards }: ReadArchive,
): Promise<Membership> {
  return await prisma.$transaction(
    async (transaction) => {
      await roomForStaff(transaction, user.id);
      const staff = await transaction.staff.create({ data: { name: head.staff.name } });
      const member = await transaction.member.create({
        data: { staffId: staff.id, userId: user.id, role: 'headCoach', group: 'all' },
      });
      await transaction.look.createMany({
        data: head.looks.map((recipe, order) => ({
          staffId: staff.id,
          name: recipe.name,
          recipe: toJson(recipe),
          order,
          createdBy: member.id,
        })),
      });
      for await (const board of boards)
        await importBoard(transaction, { staffId: staff.id, memberId: member.id }, board);
      await record(transaction, {
        staffId: staff.id,
        by: { userId: user.id, name: user.name },
        what: `made the staff from the archive of “${head.staff.name}”`,
        detail: { exportedAt: head.exportedAt, boards: head.boards },
      });
      const { id: memberId, role, group } = member;
      return { memberId, staffId: staff.id, staffName: staff.name, role, group };
    },
    { timeout: 120_000 },
  );
}

const dateOrNull = (at: string | null): Date | null => (at === null ? null : new Date(at));

async function importBoard(
  transaction: Transaction,
  by: { staffId: string; memberId: string },
  { board, state }: ReadBoard,
): Promise<void> {
  const { play } = board.content;
  const { id: boardId } = await transaction.board.create({
    data: {
      staffId: by.staffId,
      name: play.name,
      concept: play.concept,
      formation: formationName(play),
      // No member of this staff: rooms then show the name itself.
      createdBy: board.createdBy,
      createdAt: new Date(board.createdAt),
      updatedAt: new Date(board.updatedAt),
      archivedAt: dateOrNull(board.archivedAt),
      updates: { create: { bytes: state, memberId: by.memberId } },
      authors: {
        createMany: {
          data: board.authors.map(({ element, name, at }) => ({ element, name, at: new Date(at) })),
          skipDuplicates: true,
        },
      },
      waivers: {
        createMany: {
          data: board.waivers.map(({ findingId, reason, name, at }) => ({
            findingId,
            reason,
            name,
            at: new Date(at),
            memberId: fromElsewhere,
          })),
          skipDuplicates: true,
        },
      },
      findings: {
        createMany: {
          data: board.findings.map((finding) => ({
            ...finding,
            authors: toJson(finding.authors),
            openedAt: new Date(finding.openedAt),
            closedAt: dateOrNull(finding.closedAt),
          })),
        },
      },
    },
  });
  for (const change of board.changes) await importChange(transaction, boardId, change);
  for (const thread of board.threads) {
    await transaction.thread.create({
      data: {
        boardId,
        anchor: thread.anchor,
        createdAt: new Date(thread.createdAt),
        resolvedAt: dateOrNull(thread.resolvedAt),
        resolvedBy: thread.resolvedBy,
        comments: {
          createMany: {
            data: thread.comments.map(({ name, text, createdAt, editedAt }) => ({
              memberId: fromElsewhere,
              name,
              text,
              createdAt: new Date(createdAt),
              editedAt: dateOrNull(editedAt),
            })),
          },
        },
      },
    });
  }
}

async function importChange(
  transaction: Transaction,
  boardId: string,
  change: ArchivedBoard['changes'][number],
): Promise<void> {
  const play = toJson(change.content);
  await transaction.installChange.create({
    data: {
      boardId,
      state: change.state,
      play,
      hash: change.hash,
      words: change.words,
      findings: toJson(change.findings),
      message: change.message,
      sentBy: fromElsewhere,
      sentByName: change.sentBy,
      sentAt: new Date(change.sentAt),
      decidedBy: change.decidedBy === null ? null : fromElsewhere,
      decidedByName: change.decidedBy,
      decidedAt: dateOrNull(change.decidedAt),
      reply: change.reply,
      ...(change.version
        ? {
            version: {
              create: {
                boardId,
                number: change.version.number,
                play,
                hash: change.hash,
                author: change.version.author,
                signer: change.version.signer,
                signedAt: new Date(change.version.signedAt),
              },
            },
          }
        : {}),
    },
  });
}
