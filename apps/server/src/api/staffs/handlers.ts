import { foundStaff } from '../../accounts/found-staff.ts';
import { api } from '../context.ts';
import * as contract from './contract.ts';

export const staffs = api().openapi(contract.found, async (c) => {
  const { name } = c.req.valid('json');
  return c.json(await foundStaff(c.var.deps.prisma, c.var.signedIn.user, name), 201);
});
