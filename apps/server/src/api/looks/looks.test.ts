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

  it('refuses what is no recipe, and says where', async () => {
    const problem = await head.isRefused(422, 'POST', shelf, {
      recipe: { ...builtInLooks[0], traits: 'none' },
    });
    expect(problem.where?.[0]?.path).toBe('body.recipe.traits');
  });
});
