import { lookRecipeSchema } from '@stemline/football/shelf';
import { record } from '../../audit/audit.ts';
import { isTaken, lockStaff, toJson } from '../../database.ts';
import type { Look } from '../../generated/prisma/client.ts';
import { api, type Deps } from '../context.ts';
import { mustFit } from '../full.ts';
import { ApiProblem, notFound } from '../problem.ts';
import * as contract from './contract.ts';

const line = (look: Look) => ({
  id: look.id,
  order: look.order,
  recipe: lookRecipeSchema.parse(look.recipe),
});

/** The looks are part of what every board of the staff is checked against. */
async function tellBoards({ prisma, rooms }: Deps, staffId: string): Promise<void> {
  const boards = await prisma.board.findMany({ where: { staffId }, select: { id: true } });
  await Promise.all(boards.map(({ id }) => rooms.publish(id, { kind: 'looks' })));
}

const nameTaken =
  (name: string) =>
  (error: unknown): never => {
    if (!isTaken(error)) throw error;
    throw new ApiProblem('nameTaken', `The shelf has a look “${name}” already.`);
  };

export const looks = api()
  .openapi(contract.list, async (c) => {
    const found = await c.var.deps.prisma.look.findMany({
      where: { staffId: c.var.standing.staffId },
      orderBy: [{ order: 'asc' }, { id: 'asc' }],
    });
    return c.json(found.map(line), 200);
  })
  .openapi(contract.add, async (c) => {
    const { recipe } = c.req.valid('json');
    const { standing, deps } = c.var;
    const { staffId } = standing;
    const look = await deps.prisma
      .$transaction(async (transaction) => {
        await lockStaff(transaction, staffId);
        mustFit('looks', await transaction.look.count({ where: { staffId } }));
        const last = await transaction.look.aggregate({
          where: { staffId },
          _max: { order: true },
        });
        const made = await transaction.look.create({
          data: {
            staffId,
            name: recipe.name,
            recipe: toJson(recipe),
            order: (last._max.order ?? -1) + 1,
            createdBy: standing.memberId,
          },
        });
        await record(transaction, {
          staffId,
          by: standing,
          what: `put the look “${recipe.name}” on the shelf`,
        });
        return made;
      })
      .catch(nameTaken(recipe.name));
    await tellBoards(deps, staffId);
    return c.json(line(look), 201);
  })
  .openapi(contract.change, async (c) => {
    const { recipe } = c.req.valid('json');
    const { look: id } = c.req.valid('param');
    const { standing, deps } = c.var;
    const { staffId } = standing;
    const look = await deps.prisma
      .$transaction(async (transaction) => {
        const before = await transaction.look.findFirst({ where: { id, staffId } });
        if (!before) throw notFound('look');
        const changed = await transaction.look.update({
          where: { id },
          data: { name: recipe.name, recipe: toJson(recipe) },
        });
        await record(transaction, {
          staffId,
          by: standing,
          what: `changed the look “${before.name}”`,
        });
        return changed;
      })
      .catch(nameTaken(recipe.name));
    await tellBoards(deps, staffId);
    return c.json(line(look), 200);
  })
  .openapi(contract.move, async (c) => {
    const { after } = c.req.valid('json');
    const { look: id } = c.req.valid('param');
    const { standing, deps } = c.var;
    const { staffId } = standing;
    const shelf = await deps.prisma.$transaction(async (transaction) => {
      await lockStaff(transaction, staffId);
      const before = await transaction.look.findMany({
        where: { staffId },
        orderBy: [{ order: 'asc' }, { id: 'asc' }],
      });
      const moved = before.find((one) => one.id === id);
      if (!moved) throw notFound('look');
      const others = before.filter((one) => one !== moved);
      const place = after === null ? 0 : others.findIndex((one) => one.id === after) + 1;
      if (after !== null && place === 0) throw notFound('look');
      const now = others.toSpliced(place, 0, moved);
      for (const [order, one] of now.entries()) {
        if (one.order !== order)
          await transaction.look.update({ where: { id: one.id }, data: { order } });
      }
      const neighbour = now[place - 1];
      if (before.indexOf(moved) !== place)
        await record(transaction, {
          staffId,
          by: standing,
          what: `moved the look “${moved.name}” ${
            neighbour ? `behind “${neighbour.name}”` : 'to the front of the shelf'
          }`,
        });
      return now.map((one, order) => line({ ...one, order }));
    });
    await tellBoards(deps, staffId);
    return c.json(shelf, 200);
  })
  .openapi(contract.remove, async (c) => {
    const { look: id } = c.req.valid('param');
    const { standing, deps } = c.var;
    const { staffId } = standing;
    await deps.prisma.$transaction(async (transaction) => {
      const before = await transaction.look.findFirst({ where: { id, staffId } });
      if (!before) throw notFound('look');
      await transaction.look.delete({ where: { id } });
      await record(transaction, {
        staffId,
        by: standing,
        what: `took the look “${before.name}” off the shelf`,
      });
    });
    await tellBoards(deps, staffId);
    return c.body(null, 204);
  });
