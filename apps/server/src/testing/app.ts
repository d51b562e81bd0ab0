import pino from 'pino';
import { afterAll } from 'vitest';
import { createAuth } from '../accounts/auth.ts';
import { sessionReader, tokenReader } from '../accounts/session.ts';
import { createApp } from '../api/app.ts';
import type { Deps } from '../api/context.ts';
import { Metrics } from '../http/metrics.ts';
import { originCheck } from '../http/origin.ts';
import { readMigrations } from '../migrations/folder.ts';
import { whyUnready } from '../migrations/unready.ts';
import { createRooms, type Rooms } from '../rooms/rooms.ts';
import { freshDatabase, type TestDatabase } from './database.ts';
import { Person } from './person.ts';
import { quickPasswords } from './quick-passwords.ts';

export interface TestApp extends TestDatabase {
  app: ReturnType<typeof createApp>;
  deps: Deps;
  rooms: Rooms;
  /** Somebody with an account and a session of his own. */
  person(name: string): Promise<Person>;
  /** Somebody who is not signed in. */
  stranger(): Person;
}

/** The whole API with its rooms on a database of its own; nothing in it is a stand-in. A log given is everybody's. */
export async function startApp(overrides: Partial<Deps> = {}): Promise<TestApp> {
  const { url, prisma } = await freshDatabase();
  const log = overrides.log ?? pino({ level: process.env.TEST_LOG ?? 'silent' });
  const auth = createAuth({
    prisma,
    log,
    secret: 'a secret for tests that is long enough',
    publicUrl: null,
    passwords: quickPasswords,
  });
  const sessionOf = sessionReader(auth);
  const metrics = new Metrics(null);
  const rooms = createRooms({
    prisma,
    sessionOf,
    signedToken: tokenReader(auth),
    allowsOrigin: originCheck(null),
    log,
    trustProxy: false,
    registry: metrics.registry,
    limits: { idleUnloadMs: 1 },
  });
  const migrations = await readMigrations();
  const deps: Deps = {
    prisma,
    auth,
    sessionOf,
    rooms,
    log,
    metrics,
    unready: () => whyUnready(prisma, migrations),
    otherServers: () => null,
    publicUrl: null,
    trustProxy: false,
    requestsPerMinute: 1_000_000,
    signInsPerMinute: 1_000_000,
    webFolder: null,
    ...overrides,
  };
  const app = createApp(deps);
  afterAll(() => rooms.close());
  return {
    url,
    prisma,
    app,
    deps,
    rooms,
    stranger: () => new Person(app, 'stranger'),
    person: async (name) => {
      const somebody = new Person(app, name);
      await somebody.createAccount();
      return somebody;
    },
  };
}
