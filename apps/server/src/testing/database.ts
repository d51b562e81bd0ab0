import { randomBytes } from 'node:crypto';
import pg from 'pg';
import { afterAll, inject } from 'vitest';
import { openDatabase, type Prisma } from '../database.ts';
// Declares `templateUrl` for whoever injects it.
import type {} from './postgres.ts';

export interface TestDatabase {
  url: string;
  prisma: Prisma;
}

/** A database of this test file's own with the schema of this build, gone when the file is done. */
export async function freshDatabase({ migrated = true } = {}): Promise<TestDatabase> {
  const template = new URL(inject('templateUrl'));
  const name = `test_${randomBytes(6).toString('hex')}`;
  await asAdmin(
    migrated
      ? `CREATE DATABASE ${name} TEMPLATE ${template.pathname.slice(1)}`
      : `CREATE DATABASE ${name}`,
  );
  const url = new URL(template);
  url.pathname = `/${name}`;
  const prisma = openDatabase(url.href, () => undefined);
  afterAll(async () => {
    await prisma.$disconnect();
    await asAdmin(`DROP DATABASE ${name} WITH (FORCE)`);
  });
  return { url: url.href, prisma };
}

async function asAdmin(sql: string): Promise<void> {
  const url = new URL(inject('templateUrl'));
  url.pathname = '/postgres';
  const client = new pg.Client({ connectionString: url.href });
  await client.connect();
  try {
    await client.query(sql);
  } finally {
    await client.end();
  }
}
