import { createHash, randomUUID } from 'node:crypto';
import { ApiProblem } from '../api/problem.ts';
import type { Prisma } from '../database.ts';
import { countedAs } from '../http/counted-as.ts';

const minute = 60_000;

/**
 * Wrong passwords within a quarter of an hour until no more are looked at. Of one account from one
 * address few; of one account from everywhere more, so that a stranger who knows a coach's e-mail cannot
 * easily shut him out; of one address most, since a whole staff may come from it.
 */
export const wrongPasswords = {
  windowMs: 15 * minute,
  accountFromAddress: 10,
  account: 100,
  address: 300,
} as const;

interface Counter {
  key: string;
  max: number;
}

/** Marks ours among the counters of the same table. */
const prefix = 'wrong-password:';

function countersOf(email: string, address: string): Counter[] {
  const account = email.trim().toLowerCase();
  const from = countedAs(address);
  const counter = (max: number, ...parts: string[]): Counter => ({
    // Hashed: what somebody typed as an e-mail may be his password.
    key: prefix + createHash('sha256').update(JSON.stringify(parts)).digest('hex'),
    max,
  });
  return [
    counter(wrongPasswords.accountFromAddress, 'both', account, from),
    counter(wrongPasswords.account, 'account', account),
    counter(wrongPasswords.address, 'address', from),
  ];
}

/** What a try came to: only a wrong password counts, and the right one forgives the account. */
export type TryResult = 'right' | 'wrong' | 'neither';

/**
 * Begins one try of a password; throws `lockedOut` when there were too many wrong ones, whether or not
 * there is such an account. It counts as wrong from the start, so that many at once gain nothing; the
 * answer is to be given what it came to.
 */
export async function beginTry(
  database: Prisma,
  email: string,
  address: string,
  now: Date = new Date(),
): Promise<(result: TryResult) => Promise<void>> {
  const counters = countersOf(email, address);
  const at = BigInt(now.getTime());
  const over = at - BigInt(wrongPasswords.windowMs);
  const counted: Counter[] = [];
  for (const counter of counters) {
    const [row] = await database.$queryRaw<{ count: number; since: bigint }[]>`
      INSERT INTO rate_limit AS r (id, key, count, "lastRequest")
      VALUES (${randomUUID()}, ${counter.key}, 1, ${at})
      ON CONFLICT (key) DO UPDATE SET
        count = CASE WHEN r."lastRequest" <= ${over} THEN 1 ELSE r.count + 1 END,
        "lastRequest" = CASE WHEN r."lastRequest" <= ${over} THEN ${at} ELSE r."lastRequest" END
      RETURNING count, "lastRequest" AS since`;
    counted.push(counter);
    if (row && row.count > counter.max) {
      await takeBack(database, counted);
      throw lockedOut(Number(row.since) + wrongPasswords.windowMs - now.getTime());
    }
  }
  return async (result) => {
    if (result === 'wrong') return;
    await takeBack(database, counters);
    if (result === 'neither') return;
    const [both, account] = counters;
    await database.rateLimit.deleteMany({
      where: {
        OR: [
          { key: { in: [both, account].flatMap((counter) => counter?.key ?? []) } },
          { key: { startsWith: prefix }, lastRequest: { lte: over } },
        ],
      },
    });
  };
}

async function takeBack(database: Prisma, counters: readonly Counter[]): Promise<void> {
  await database.rateLimit.updateMany({
    where: { key: { in: counters.map(({ key }) => key) }, count: { gt: 0 } },
    data: { count: { decrement: 1 } },
  });
}

function lockedOut(leftMs: number): ApiProblem {
  const minutes = Math.max(1, Math.ceil(leftMs / minute));
  return new ApiProblem(
    'lockedOut',
    'There were too many wrong passwords for this account or from this address.',
    {
      mend: `Wait ${minutes === 1 ? 'a minute' : `${minutes} minutes`}, then try again.`,
      headers: { 'retry-after': String(Math.max(1, Math.ceil(leftMs / 1000))) },
    },
  );
}
