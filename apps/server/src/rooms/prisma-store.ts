import { type ElementKey, parseElementKey } from '@stemline/board/element-key';
import { lookRecipeSchema } from '@stemline/football/shelf';
import type { Prisma } from '../database.ts';
import { appendAll } from './append-sql.ts';
import { readBoard } from './load-sql.ts';
import { packStored, readWhole } from './pack-sql.ts';
import { recordFindings } from './record-findings-sql.ts';
import type { Author, BoardStore, Newer, StoredUpdate } from './store.ts';

/** The rooms' store in Postgres. `onUnreadable`: a stored look is none of this build's, and left out. */
export function prismaStore(database: Prisma, onUnreadable: (lookId: string) => void): BoardStore {
  return {
    load: (boardId) => readBoard(database, boardId),
    append: (boards) => appendAll(database, boards),
    newer: (boardId, after) => readNewer(database, boardId, after),

    async revisions(boardIds) {
      const rows = await database.board.findMany({
        where: { id: { in: [...boardIds] } },
        select: { id: true, revision: true },
      });
      return new Map(rows.map(({ id, revision }) => [id, revision]));
    },

    // Older snapshots stay until `history/thin.ts` lets them go: the board's past is read from them.
    async fold(boardId, upTo, bytes, packed) {
      await database.boardSnapshot.create({
        data: { boardId, upTo, bytes: owned(bytes), packed: packed && owned(packed) },
      });
    },

    whole: (boardId) => readWhole(database, boardId),
    pack: (packing) => packStored(database, packing),

    async quarantine({ bytes, ...refused }) {
      // A board that is gone takes its quarantine with it.
      const here = await database.board.findUnique({
        where: { id: refused.boardId },
        select: { id: true },
      });
      if (here) await database.quarantine.create({ data: { ...refused, bytes: owned(bytes) } });
    },

    async looks(staffId) {
      const rows = await database.look.findMany({
        where: { staffId },
        orderBy: [{ order: 'asc' }, { id: 'asc' }],
      });
      return rows.flatMap(({ id, recipe }) => {
        const read = lookRecipeSchema.safeParse(recipe);
        if (read.success) return [read.data];
        onUnreadable(id);
        return [];
      });
    },

    async waivers(boardId) {
      const rows = await database.waiver.findMany({ where: { boardId } });
      return new Map(
        rows.map(({ findingId, name, reason, at }) => [findingId, { by: name, reason, at }]),
      );
    },

    openFindings: (boardId) =>
      database.findingRecord.findMany({
        where: { boardId, closedAt: null },
        select: { findingId: true, openedAt: true },
      }),

    recordFindings: (boardId, standing, at) => recordFindings(database, boardId, standing, at),
  };
}

/** Prisma wants bytes whose buffer is theirs alone. */
const owned = (bytes: Uint8Array): Uint8Array<ArrayBuffer> => new Uint8Array(bytes);

const clientsOf = (
  rows: readonly { clientId: bigint; memberId: string | null }[],
): Map<number, string> =>
  new Map(
    rows.flatMap(({ clientId, memberId }) =>
      memberId === null ? [] : [[Number(clientId), memberId]],
    ),
  );

const authorsOf = (rows: readonly (Author & { element: string })[]): Map<ElementKey, Author> =>
  new Map(
    rows.flatMap(({ element, memberId, name, at }): [ElementKey, Author][] =>
      parseElementKey(element) ? [[element as ElementKey, { memberId, name, at }]] : [],
    ),
  );

/** Revision and updates are of one moment; what is read beside them may be later, and is then read again. */
async function readNewer(database: Prisma, boardId: string, after: bigint): Promise<Newer | null> {
  const rows = await database.$queryRaw<
    { revision: number; packings: number; id: bigint | null; bytes: Uint8Array | null }[]
  >`
    SELECT b.revision, b.packings, u.id, u.bytes FROM "Board" b
    LEFT JOIN "BoardUpdate" u ON u."boardId" = b.id AND u.id > ${after}
    WHERE b.id = ${boardId} ORDER BY u.id`;
  const [first] = rows;
  if (!first) return null;
  const updates = rows.flatMap(({ id, bytes }): StoredUpdate[] =>
    id === null || bytes === null ? [] : [{ id, bytes }],
  );
  const { revision, packings } = first;
  if (updates.length === 0)
    return { revision, packings, updates, clients: new Map(), authors: new Map() };
  const [clients, authors] = await Promise.all([
    database.boardClient.findMany({ where: { boardId, memberId: { not: null } } }),
    database.elementAuthor.findMany({ where: { boardId } }),
  ]);
  return {
    revision,
    packings,
    updates,
    clients: clientsOf(clients),
    authors: authorsOf(authors),
  };
}
