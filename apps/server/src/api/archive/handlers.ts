import { exportStaff } from '../../archive/export.ts';
import { importStaff } from '../../archive/import.ts';
import { readArchive } from '../../archive/reading/read-archive.ts';
import { record } from '../../audit/audit.ts';
import { api } from '../context.ts';
import { ApiProblem } from '../problem.ts';
import * as contract from './contract.ts';

/** Whose archive is on its way here, or read and written, in this process: that takes memory and time. */
const importing = new Set<string>();
const importsAtOnce = 2;

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
    const whole = await exportStaff(deps.prisma, standing.staffId, new Date());
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
    if (importing.has(user.id) || importing.size >= importsAtOnce)
      throw new ApiProblem('tooMany', 'Another import is under way.');
    importing.add(user.id);
    try {
      const bytes = await c.req.arrayBuffer();
      const made = await readArchive(bytes, (archive) => importStaff(deps.prisma, user, archive));
      return c.json(made, 201);
    } finally {
      importing.delete(user.id);
    }
  });
