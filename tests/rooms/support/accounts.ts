import type { Group, Role } from '@stemline/protocol/roles';
import type { Logger } from 'pino';
import { type Auth, createAuth } from '../../../apps/server/src/accounts/auth.ts';
import type { Prisma } from '../../../apps/server/src/database.ts';
import { quickPasswords } from '../../../apps/server/src/testing/quick-passwords.ts';

/** Somebody with an account, a session and a place on a staff. */
export interface Person {
  name: string;
  userId: string;
  memberId: string;
  staffId: string;
  cookie: string;
}

export const testSecret = 'a secret of the tests and of nothing else';

export const testAuth = (prisma: Prisma, log: Logger): Auth =>
  createAuth({
    prisma,
    log,
    secret: testSecret,
    publicUrl: ['http://127.0.0.1'],
    passwords: quickPasswords,
  });

let count = 0;

/** Signs up for real; the cookie is what a browser would hold. */
export async function person(
  { prisma, auth }: { prisma: Prisma; auth: Auth },
  staffId: string,
  name: string,
  role: Role,
  group: Group = 'all',
): Promise<Person> {
  count += 1;
  const answer = await auth.api.signUpEmail({
    body: {
      name,
      email: `person${count}-${process.pid}@example.test`,
      password: 'long enough, really',
    },
    asResponse: true,
  });
  if (!answer.ok) throw new Error(`sign-up failed: ${await answer.text()}`);
  const cookie = answer.headers
    .getSetCookie()
    .map((each) => each.split(';', 1)[0])
    .join('; ');
  const { user } = (await answer.json()) as { user: { id: string } };
  const member = await prisma.member.create({ data: { staffId, userId: user.id, role, group } });
  return { name, userId: user.id, memberId: member.id, staffId, cookie };
}
