import { beforeAll, describe, expect, it } from 'vitest';
import { startApp, type TestApp } from '../testing/app.ts';

let stage: TestApp;

beforeAll(async () => {
  stage = await startApp();
});

describe("a board's log", () => {
  it('R25: is found by the board alone, so that no plan goes through the rows of others', async () => {
    const { rows } = await stage.prisma.pool.query<{ index: string; first: string }>(
      `SELECT i.indexrelid::regclass::text AS index, a.attname AS first
       FROM pg_index i JOIN pg_attribute a ON a.attrelid = i.indrelid AND a.attnum = i.indkey[0]
       WHERE i.indrelid = '"BoardUpdate"'::regclass`,
    );
    expect(rows).toEqual([{ index: '"BoardUpdate_pkey"', first: 'boardId' }]);
  });
});
