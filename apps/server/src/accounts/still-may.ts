import type { Action } from '@stemline/protocol/permissions';
import { checkRight } from '../api/needs.ts';
import { notFound } from '../api/problem.ts';
import { lockStaff, type Transaction } from '../database.ts';
import type { Standing } from './standing.ts';

/**
 * For what changes who stands where on a staff, one after another: locks the staff, and throws where who
 * asked was removed, or lost the right, after his request was let in.
 */
export async function stillMay(
  transaction: Transaction,
  by: Standing,
  action: Action,
): Promise<void> {
  await lockStaff(transaction, by.staffId);
  const now = await transaction.member.findUnique({ where: { id: by.memberId } });
  if (!now || now.removedAt) throw notFound('staff');
  checkRight({ ...by, role: now.role }, action);
}
