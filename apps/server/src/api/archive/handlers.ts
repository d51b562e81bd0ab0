import { exportStaff } from '../../archive/export.ts';
import { importStaff } from '../../archive/import.ts';
import { readArchive } from '../../archive/reading/read-archive.ts';
import { record } from '../../audit/audit.ts';
import { archiveBody } from '../../http/json-bodies.ts';
import { api } from '../context.ts';
import { ApiProblem } from '../problem.ts';
import * as contract from './contract.ts';

/** Whose archive is being made, or on its way here, read and written, in this process: that takes memory and time. */
const under = { export: new Set<string>(), import: new Set<string>() };
const atOnce = 2;

/** Once at a time for one person, and for few at a time. */
async function alone<T>(what: keyof typeof under, userId: string, work: () => Promise<T>) {
  const busy = under[what];
  if (busy.has(userId) || busy.size >= atOnce)
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
    const whole = await alone('export', standing.userId, () =>
      exportStaff(deps.prisma, standing.staffId, new Date()),
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
    const made = await alone('import', user.id, async () =>
      readArchive(await archiveBody(c.req.raw), (archive) =>
        importStaff(deps.prisma, user, archive),
      ),
    );
    return c.json(made, 201);
  });
