import type { Transaction } from '../database.ts';

interface Deed {
  staffId: string;
  boardId?: string;
  by: { userId: string; name: string };
  /** What was done, as the rest of a sentence that begins with the name: "signed off version 3". */
  what: string;
  /** For machines: ids and values. */
  detail?: Record<string, string | number | boolean | null>;
}

/** Writes down a deed in the very transaction that does it. Nothing ever changes or removes these lines. */
export async function record(transaction: Transaction, deed: Deed): Promise<void> {
  await transaction.auditEvent.create({
    data: {
      staffId: deed.staffId,
      boardId: deed.boardId ?? null,
      who: deed.by.userId,
      name: deed.by.name,
      what: deed.what,
      detail: deed.detail ?? {},
    },
  });
}
