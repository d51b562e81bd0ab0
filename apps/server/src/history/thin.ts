import { historyKept, sittingPauseMinutes } from '@stemline/protocol/history';
import * as Y from 'yjs';
import type { Prisma, Transaction } from '../database.ts';

const minute = 60_000;
const day = 24 * 60 * minute;
/** Newest snapshots that a room may load from: nothing later than the older of them is touched. */
const snapshotsInUse = 2;
/** An update that says nothing: its row only says who was there, and when. */
const nothing = Uint8Array.of(0, 0);

interface Row {
  id: bigint;
  at: Date;
  memberId: string | null;
  size: number;
}

/** Rows that are to be told by the last of them. */
interface Span {
  keeps: 'sitting' | 'day' | 'end';
  rows: readonly Row[];
}

/**
 * Thins the log of one board by `historyKept`. The rows of a span become one update in its last row,
 * which brings the board from how the span before it ended to how this one did, without what came and
 * went in between; beside it stand a row for each who was there, and for a sitting its first. What a
 * room may still load from is never touched. Answers how many rows went.
 */
export async function thinBoard(database: Prisma, boardId: string, now: Date): Promise<number> {
  const before = new Date(now.getTime() - historyKept[0].days * day);
  return await database.$transaction(
    async (transaction) => {
      await transaction.$queryRaw`SELECT pg_advisory_xact_lock(4600002, hashtext(${boardId}))::text`;
      const inUse = await transaction.boardSnapshot.findMany({
        where: { boardId },
        orderBy: { upTo: 'desc' },
        distinct: ['upTo'],
        take: snapshotsInUse,
        select: { upTo: true },
      });
      const upTo = inUse.at(-1)?.upTo;
      if (upTo === undefined) return 0;
      // The newest with nothing packed away stays: from it the board is read whole.
      const whole = await transaction.boardSnapshot.findFirst({
        where: { boardId, packed: null },
        orderBy: [{ upTo: 'desc' }, { id: 'desc' }],
        select: { id: true },
      });
      await transaction.boardSnapshot.deleteMany({
        where: {
          boardId,
          upTo: { lt: upTo },
          at: { lt: before },
          ...(whole ? { id: { not: whole.id } } : {}),
        },
      });
      const rows = await transaction.$queryRaw<Row[]>`
        SELECT id, at, "memberId", length(bytes) AS size FROM "BoardUpdate"
        WHERE "boardId" = ${boardId} AND id <= ${upTo} AND at < ${before} ORDER BY id`;
      const spans = spansOf(rows, now);
      const last = spans.findLastIndex(needsThinning);
      return last < 0 ? 0 : await thinSpans(transaction, boardId, spans.slice(0, last + 1));
    },
    { timeout: 120_000 },
  );
}

async function thinSpans(
  transaction: Transaction,
  boardId: string,
  spans: readonly Span[],
): Promise<number> {
  const ydoc = new Y.Doc();
  let gone = 0;
  for (const span of spans) {
    const ids = span.rows.map(({ id }) => id);
    const stored = await transaction.boardUpdate.findMany({
      where: { boardId, id: { gte: ids[0] ?? 0n, lte: ids.at(-1) ?? 0n } },
      orderBy: { id: 'asc' },
      select: { bytes: true },
    });
    const before = Y.encodeStateVector(ydoc);
    ydoc.transact(() => {
      for (const { bytes } of stored) Y.applyUpdate(ydoc, bytes);
    });
    if (!needsThinning(span)) continue;
    const last = span.rows.at(-1);
    if (!last) continue;
    const kept = keptOf(span);
    const bytes = Uint8Array.from(Y.encodeStateAsUpdate(ydoc, before));
    const removed = await transaction.boardUpdate.deleteMany({
      where: { boardId, id: { in: ids.filter((id) => !kept.has(id)) } },
    });
    gone += removed.count;
    await transaction.boardUpdate.updateMany({
      where: { boardId, id: { in: ids.filter((id) => kept.has(id)) } },
      data: { bytes: nothing, ...(span.keeps === 'sitting' ? {} : { at: last.at }) },
    });
    await transaction.boardUpdate.update({
      where: { boardId_id: { boardId, id: last.id } },
      data: { bytes },
    });
  }
  ydoc.destroy();
  return gone;
}

/** The rows, all older than the time for which every edit is kept, by what they are told by. */
function spansOf(rows: readonly Row[], now: Date): Span[] {
  const spans: { keeps: Span['keeps']; rows: Row[] }[] = [];
  for (const row of rows) {
    const keeps = keptAs(row, now);
    const span = spans.at(-1);
    const previous = span?.rows.at(-1);
    if (span && previous && span.keeps === keeps && together(keeps, previous, row))
      span.rows.push(row);
    else spans.push({ keeps, rows: [row] });
  }
  return spans;
}

function keptAs({ at }: Row, now: Date): Span['keeps'] {
  const age = (now.getTime() - at.getTime()) / day;
  const [, ...coarser] = historyKept;
  return coarser.find(({ days }) => age <= days)?.keeps ?? 'end';
}

function together(keeps: Span['keeps'], a: Row, b: Row): boolean {
  if (keeps === 'sitting') return b.at.getTime() - a.at.getTime() <= sittingPauseMinutes * minute;
  if (keeps === 'day') return a.at.toISOString().slice(0, 10) === b.at.toISOString().slice(0, 10);
  return true;
}

/** Ids of the rows that stay: the last, everybody's last, and the first of a sitting. */
function keptOf({ keeps, rows }: Span): ReadonlySet<bigint> {
  const lastOf = new Map(rows.map(({ memberId, id }) => [memberId, id]));
  const [first] = rows;
  const last = rows.at(-1);
  return new Set([
    ...lastOf.values(),
    ...(keeps === 'sitting' && first ? [first.id] : []),
    ...(last ? [last.id] : []),
  ]);
}

function needsThinning(span: Span): boolean {
  const kept = keptOf(span);
  return (
    span.rows.length > kept.size ||
    span.rows.slice(0, -1).some(({ size }) => size > nothing.byteLength)
  );
}
