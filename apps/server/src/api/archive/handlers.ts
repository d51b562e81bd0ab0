import { maxArchiveBytes } from '@stemline/protocol/api/archive';
import pLimit from 'p-limit';
import { Arriving } from '../../archive/arriving.ts';
import { exportStaff } from '../../archive/export.ts';
import { importStaff } from '../../archive/import.ts';
import { readArchive } from '../../archive/reading/read-archive.ts';
import { record } from '../../audit/audit.ts';
import { api } from '../context.ts';
import { ApiProblem } from '../problem.ts';
import * as contract from './contract.ts';

/** Archives made, or read and written, at once in this process: that takes memory and time. */
const atOnce = 2;
/** Whose archive is being made, or on its way here, waiting, read and written. */
const under = { export: new Set<string>(), import: new Set<string>() };
const arriving = new Arriving({
  maxBytes: maxArchiveBytes,
  maxBytesOfAll: atOnce * maxArchiveBytes,
});
/** One turn each, for whoever has sent all of it. */
const importing = pLimit(atOnce);

/** Once at a time for one person, and for so many at a time. */
async function alone<T>(
  what: keyof typeof under,
  userId: string,
  work: () => Promise<T>,
  most = Number.POSITIVE_INFINITY,
) {
  const busy = under[what];
  if (busy.has(userId) || busy.size >= most)
    throw new ApiProblem('tooMany', `Another ${what} is under way.`);
  busy.add(userId);
  try {
    return await work();
  } finally {
    busy.delete(userId);
  }
}

/** "alder-point.stemline.json" */
const fileName = (staff: string): string =>
  `${
    staff
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '') || 'staff'
  }.stemline.json`;

export const archive = api()
  .openapi(contract.exported, async (c) => {
    const { deps, standing } = c.var;
    const whole = await alone(
      'export',
      standing.userId,
      () => exportStaff(deps.prisma, standing.staffId, new Date()),
      atOnce,
    );
    await deps.prisma.$transaction((transaction) =>
      record(transaction, {
        staffId: standing.staffId,
        by: standing,
        what: 'exported the whole staff',
        detail: { boards: whole.boards.length },
      }),
    );
    c.header('content-disposition', `attachment; filename="${fileName(whole.staff.name)}"`);
    return c.json(whole, 200);
  })
  .openapi(contract.imported, async (c) => {
    const { deps, signedIn } = c.var;
    const { user } = signedIn;
    const made = await alone('import', user.id, () =>
      arriving.receive(c.req.raw, (whole) =>
        importing(() => readArchive(whole(), (archive) => importStaff(deps.prisma, user, archive))),
      ),
    );
    return c.json(made, 201);
  });
