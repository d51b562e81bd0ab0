import { roleNames } from '@stemline/protocol/roles';
import { demoPassword, otherStaff, people } from './demo/people.ts';
import type { Env } from './env.ts';
import type { Running } from './server.ts';

/** What the operator reads once everything runs: the address, and the demo sign-ins if there are any. */
export async function greeting({ url, prisma }: Running, env: Env): Promise<string> {
  const lines = [`Stemline runs at ${env.PUBLIC_URL?.[0] ?? url}`];
  const demo = [...Object.values(people), otherStaff.coach];
  const there = await prisma.user.findMany({
    where: { email: { in: demo.map(({ email }) => email) } },
    select: { email: true },
  });
  if (env.demo && there.length > 0) {
    const emails = new Set(there.map(({ email }) => email));
    lines.push(`Demo sign-ins, all with the password ${demoPassword}:`);
    for (const { name, email, role } of demo.filter((person) => emails.has(person.email))) {
      lines.push(`  ${email.padEnd(30)} ${name}, ${roleNames[role].toLowerCase()}`);
    }
  }
  lines.push('Stop it with Ctrl-C.');
  return lines.join('\n');
}
