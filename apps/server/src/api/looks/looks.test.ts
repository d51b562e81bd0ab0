import { builtInLooks } from '@stemline/football/shelf';
import { staffLookSchema } from '@stemline/protocol/api/looks';
import { beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { startApp, type TestApp } from '../../testing/app.ts';
import type { Person } from '../../testing/person.ts';

let stage: TestApp;
let head: Person;
let shelf: string;

beforeAll(async () => {
  stage = await startApp();
  head = await stage.person('Head');
  shelf = `/api/staffs/${await head.foundsStaff('Alder')}/looks`;
});

const read = () => head.gets(z.array(staffLookSchema), 'GET', shelf);

describe('the look shelf', () => {
  it('of a new staff holds the built-in looks in their order', async () => {
    expect((await read()).map(({ recipe }) => recipe)).toEqual(builtInLooks);
  });

  it('takes a look of the staff’s own at its end, changes it and lets it go', async () => {
    const [first] = builtInLooks;
    const own = await head.gets(staffLookSchema, 'POST', shelf, {
      recipe: { ...first, name: 'Our own' },
    });
    expect((await read()).at(-1)).toEqual(own);
    const changed = await head.gets(staffLookSchema, 'PUT', `${shelf}/${own.id}`, {
      recipe: { ...first, name: 'Renamed' },
    });
    expect(changed).toMatchObject({ id: own.id, order: own.order, recipe: { name: 'Renamed' } });
    await head.does('DELETE', `${shelf}/${own.id}`);
    await head.isRefused(404, 'DELETE', `${shelf}/${own.id}`);
    expect(await read()).toHaveLength(builtInLooks.length);
  });

  it('has no two looks of one name', async () => {
    const [first, second] = await read();
    await head.isRefused(409, 'POST', shelf, { recipe: first?.recipe }, 'nameTaken');
    await head.isRefused(
      409,
      'PUT',
      `${shelf}/${second?.id}`,
      { recipe: first?.recipe },
      'nameTaken',
    );
  });

  it('keeps the order a coach puts it in, and writes down who moved what', async () => {
    const before = (await read()).map(({ id }) => id);
    const [first = '', second = '', third = ''] = before;
    const list = z.array(staffLookSchema);
    const moved = await head.gets(list, 'POST', `${shelf}/${first}/move`, { after: third });
    expect(moved.slice(0, 3).map(({ id }) => id)).toEqual([second, third, first]);
    expect(await read()).toEqual(moved);
    await head.gets(list, 'POST', `${shelf}/${first}/move`, { after: null });
    expect((await read()).map(({ id }) => id)).toEqual(before);
    const trail = await stage.prisma.auditEvent.findMany({
      where: { what: { startsWith: 'moved the look' } },
      orderBy: { id: 'asc' },
    });
    expect(trail.map(({ what }) => what)).toEqual([
      `moved the look “${builtInLooks[0]?.name}” behind “${builtInLooks[2]?.name}”`,
      `moved the look “${builtInLooks[0]?.name}” to the front of the shelf`,
    ]);
    await head.isRefused(404, 'POST', `${shelf}/${first}/move`, { after: 'gone' });
    expect((await read()).map(({ id }) => id)).toEqual(before);
  });

  it('refuses a look of ten men, and one that puts two in one place, and names the place', async () => {
    const [first] = builtInLooks;
    const men = first?.defenders ?? [];
    const ten = await head.isRefused(422, 'POST', shelf, {
      recipe: { ...first, name: 'Ten', defenders: men.slice(1) },
    });
    expect(ten.where).toMatchObject([
      { path: 'body.recipe.defenders', message: 'a look has eleven defenders, not 10' },
    ]);
    const two = await head.isRefused(422, 'POST', shelf, {
      recipe: {
        ...first,
        name: 'Two',
        defenders: men.map((man, i) => (i === 1 ? { ...man, stand: men[0]?.stand } : man)),
      },
    });
    expect(two.where?.[0]?.path).toBe('body.recipe.defenders.1.stand');
  });

  it('refuses what is no recipe, and says where', async () => {
    const problem = await head.isRefused(422, 'POST', shelf, {
      recipe: { ...builtInLooks[0], traits: 'none' },
    });
    expect(problem.where?.[0]?.path).toBe('body.recipe.traits');
  });
});
