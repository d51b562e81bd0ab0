import { parseElementKey } from '@stemline/board/element-key';
import { foundStaff } from '../accounts/found-staff.ts';
import { type Standing, standingOn } from '../accounts/standing.ts';
import type { Deps } from '../api/context.ts';
import { record } from '../audit/audit.ts';
import { insertBoard } from '../boards/create-board.ts';
import type { Prisma } from '../database.ts';
import { decide } from '../signoff/decide.ts';
import { sendUp } from '../signoff/send-up.ts';
import { book, type DemoBoard } from './book.ts';
import {
  type DemoPerson,
  demoPassword,
  demoStaff,
  otherStaff,
  type PersonName,
  people,
} from './people.ts';

type Staff = Readonly<Record<PersonName, Standing>>;

const demoEmails = [...Object.values(people), otherStaff.coach].map(({ email }) => email);

/** Whether nobody but demo people has an account, and the last of them is still missing. */
export async function wantsDemo(prisma: Prisma): Promise<boolean> {
  const real = await prisma.user.count({ where: { email: { notIn: demoEmails } } });
  const last = await prisma.user.count({ where: { email: otherStaff.coach.email } });
  return real === 0 && last === 0;
}

/**
 * Fills an empty store with the demo staff, its book, its comments and its first sign-offs. What an
 * earlier load left that was broken off is cleared away first: `wantsDemo` has seen nobody else's.
 */
export async function loadDemo(deps: Deps): Promise<void> {
  await clearBrokenOff(deps.prisma);
  const staff = await hire(deps);
  for (const entry of book) await enter(deps, staff, entry);
  const june = await account(deps, otherStaff.coach);
  await foundStaff(deps.prisma, june, otherStaff.name);
}

async function clearBrokenOff(prisma: Prisma): Promise<void> {
  await prisma.$transaction([
    // Versions hold on to the changes they came from, so they go first.
    prisma.version.deleteMany(),
    prisma.staff.deleteMany(),
    prisma.user.deleteMany({ where: { email: { in: demoEmails } } }),
  ]);
}

async function hire(deps: Deps): Promise<Staff> {
  const { dana, ...others } = people;
  const head = await account(deps, dana);
  const { staffId } = await foundStaff(deps.prisma, head, demoStaff);
  const standing = async (user: { id: string; name: string }): Promise<Standing> => {
    const found = await standingOn(deps.prisma, user, staffId);
    if (!found) throw new Error(`${user.name} did not get onto the demo staff`);
    return found;
  };
  const by = await standing(head);
  const hired: Partial<Record<PersonName, Standing>> = { dana: by };
  for (const [name, person] of Object.entries(others) as [PersonName, DemoPerson][]) {
    const user = await account(deps, person);
    await deps.prisma.$transaction(async (transaction) => {
      await transaction.member.create({
        data: { staffId, userId: user.id, role: person.role, group: person.group },
      });
      await record(transaction, { staffId, by, what: `took ${person.name} onto the staff` });
    });
    hired[name] = await standing(user);
  }
  return hired as Staff;
}

async function account(
  deps: Deps,
  { name, email }: DemoPerson,
): Promise<{ id: string; name: string }> {
  const { user } = await deps.auth.api.signUpEmail({
    body: { name, email, password: demoPassword },
  });
  return user;
}

async function enter(deps: Deps, staff: Staff, entry: DemoBoard): Promise<void> {
  const { play, notes } = entry;
  const author = staff[entry.author];
  const boardId = await deps.prisma.$transaction(async (transaction) => {
    const id = await insertBoard(transaction, author, play, notes);
    await record(transaction, {
      staffId: author.staffId,
      boardId: id,
      by: author,
      what: `drew up “${play.name}”`,
    });
    await transaction.elementAuthor.createMany({
      data: Object.entries(entry.setBy ?? {}).map(([element, who]) => {
        if (!parseElementKey(element)) throw new Error(`The demo names no element with ${element}`);
        const { memberId, name } = staff[who];
        return { boardId: id, element, memberId, name, at: new Date() };
      }),
    });
    for (const { by, anchor, text } of entry.comments ?? []) {
      const { memberId, name } = staff[by];
      await transaction.thread.create({
        data: { boardId: id, anchor, comments: { create: { memberId, name, text } } },
      });
    }
    return id;
  });
  // The rule check comes with the room: the book then shows findings before anybody opens a board.
  await deps.rooms.freeze(boardId);
  if (!entry.signOff) return;
  const board = await deps.prisma.board.findUniqueOrThrow({ where: { id: boardId } });
  const change = await sendUp(deps, author, board, 'Ready for Thursday.');
  if (entry.signOff === 'signed') {
    await decide(deps.prisma, staff.dana, boardId, change, {
      decision: 'signOff',
      reply: 'Good. Install it.',
    });
  }
}
