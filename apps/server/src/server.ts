import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import type { Logger } from 'pino';
import { collectDefaultMetrics } from 'prom-client';
import { createAuth } from './accounts/auth.ts';
import { sessionReader, tokenReader } from './accounts/session.ts';
import { createApp } from './api/app.ts';
import type { Deps } from './api/context.ts';
import { refuseBrokenOff } from './backup/restore.ts';
import { redisBus } from './bus/redis-bus.ts';
import { Servers } from './bus/servers.ts';
import { CannotStart } from './cannot-start.ts';
import { openDatabase, type Prisma } from './database.ts';
import { loadDemo, wantsDemo } from './demo/load.ts';
import { startEmbeddedPostgres } from './embedded/postgres.ts';
import { readOrMakeSecret } from './embedded/secret.ts';
import { type Env, projectRoot } from './env.ts';
import { startThinning } from './history/thinning.ts';
import { httpServer } from './http/http-server.ts';
import { Metrics } from './http/metrics.ts';
import { originCheck } from './http/origin.ts';
import { alone } from './migrations/alone.ts';
import { readMigrations } from './migrations/folder.ts';
import { migrate } from './migrations/migrate.ts';
import { whyUnready } from './migrations/unready.ts';
import { roomLimits } from './rooms/limits.ts';
import { createRooms } from './rooms/rooms.ts';

/** A Stemline that serves. */
export interface Running {
  /** Where it listens, as an address for a browser. */
  url: string;
  prisma: Prisma;
  /** Serves what has begun, saves what the rooms hold, ends the database. Throws if something was not saved. */
  stop(): Promise<void>;
}

/** How long requests that have begun may take when the server stops. Milliseconds. */
const requestPatience = 5000;

/** Starts everything; throws `CannotStart` with a sentence for the operator, leaving nothing running. */
export async function startServer(
  env: Env,
  log: Logger,
  say: (sentence: string) => void,
): Promise<Running> {
  /** What has been started, to be ended in the other order. */
  const started: (() => Promise<void>)[] = [];
  let isEnding = false;
  try {
    await checkAddress(env);
    const url = env.DATABASE_URL ?? (await embedded(env, log, say, started));
    const migrations = await readMigrations();
    const applied = await reached(url, () =>
      alone(url, async () => {
        await refuseBrokenOff(url);
        return await migrate(url, migrations);
      }),
    );
    if (applied.length > 0) log.info({ applied }, 'the database was migrated');

    // The error itself carries the whole client with it: its words are enough.
    const prisma = openDatabase(url, ({ message }) => {
      if (!isEnding) log.warn({ why: message }, 'a database connection broke');
    });
    started.push(() => {
      isEnding = true;
      return prisma.$disconnect();
    });
    const publicUrl = env.PUBLIC_URL ?? null;
    const auth = createAuth({
      prisma,
      log,
      secret: env.AUTH_SECRET ?? (await readOrMakeSecret(env.DATA_DIR, 'auth-secret')),
      publicUrl,
    });
    const sessionOf = sessionReader(auth);
    const metrics = new Metrics(env.METRICS_TOKEN ?? null);
    collectDefaultMetrics({ register: metrics.registry });
    const servers = env.REDIS_URL ? openServers(env.REDIS_URL, log) : null;
    const rooms = createRooms({
      prisma,
      sessionOf,
      signedToken: tokenReader(auth),
      allowsOrigin: originCheck(publicUrl),
      log: log.child({ part: 'rooms' }),
      trustProxy: env.TRUST_PROXY,
      ...(servers ? { servers } : {}),
      registry: metrics.registry,
    });
    const deps: Deps = {
      prisma,
      auth,
      sessionOf,
      rooms,
      log,
      metrics,
      unready: () => whyUnready(prisma, migrations),
      otherServers: () => servers?.status() ?? null,
      publicUrl,
      trustProxy: env.TRUST_PROXY,
      requestsPerMinute: env.REQUESTS_PER_MINUTE,
      signInsPerMinute: env.SIGN_INS_PER_MINUTE,
      webFolder: join(projectRoot, 'apps', 'web', 'dist'),
    };
    if (env.demo) {
      await alone(url, async () => {
        if (!(await wantsDemo(prisma))) return;
        await loadDemo(deps);
        // The rule check comes with the room: the book shows its findings before anybody opens a board.
        for (const { id } of await prisma.board.findMany()) await rooms.freeze(id);
      });
    }

    started.push(startThinning(prisma, log));

    const server = httpServer(createApp(deps).fetch);
    server.on('upgrade', rooms.upgrade);
    const { port } = await listen(server, env);
    started.push(async () => {
      // New connections are refused from here on; those in a room are told once they are saved.
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      server.closeIdleConnections();
      const late = setTimeout(() => server.closeAllConnections(), requestPatience);
      await rooms.close();
      await closed;
      clearTimeout(late);
    });
    return {
      url: `http://${hostForBrowsers(env.HOST)}:${port}`,
      prisma,
      stop: () => endAll(started),
    };
  } catch (error) {
    await endAll(started);
    throw asSentence(error);
  }
}

/** A folder of another user's is the operator's to put right, like every other `CannotStart`. */
function asSentence(error: unknown): unknown {
  const { code, path } = error as NodeJS.ErrnoException;
  if (path === undefined || !['EACCES', 'EPERM', 'EROFS'].includes(code ?? '')) return error;
  return new CannotStart(
    `Stemline may not use ${path} (${code}): start it as the user it was first started as, or set DATA_DIR to a folder of yours.`,
    { cause: error },
  );
}

/** An address that means "every address" is none that a browser can open. */
function hostForBrowsers(host: string): string {
  if (host === '0.0.0.0' || host === '::') return 'localhost';
  return host.includes(':') ? `[${host}]` : host;
}

async function embedded(
  env: Env,
  log: Logger,
  say: (sentence: string) => void,
  started: (() => Promise<void>)[],
): Promise<string> {
  const database = await startEmbeddedPostgres({
    dataDir: env.DATA_DIR,
    say,
    onRestart: (why) => log.error({ why }, 'starting the embedded database again'),
  });
  started.push(() => database.stop());
  return database.url;
}

/** The other servers on the same store, heard over Redis. */
function openServers(url: string, log: Logger): Servers {
  const part = log.child({ part: 'bus' });
  return new Servers({
    open: (listener) =>
      redisBus(url, listener, (why) => part.warn({ why }, 'Redis cannot be reached')),
    limits: roomLimits,
    onStrange: (why) => part.warn({ why }, 'a message of no server of this build'),
  });
}

/** Ends everything even when one of them fails, then throws the first failure. */
async function endAll(started: (() => Promise<void>)[]): Promise<void> {
  const failures: unknown[] = [];
  for (const end of started.splice(0).reverse()) await end().catch((error) => failures.push(error));
  if (failures.length > 0) throw failures[0];
}

/** Says where nobody answered, without the password. */
async function reached<T>(url: string, use: () => Promise<T>): Promise<T> {
  try {
    return await use();
  } catch (error) {
    if (error instanceof CannotStart) throw error;
    const { host, pathname } = new URL(url);
    const why = error instanceof AggregateError ? error.errors[0] : error;
    throw new CannotStart(
      `The database ${host}${pathname} cannot be used (${why instanceof Error ? why.message : why}): check DATABASE_URL and that PostgreSQL runs there.`,
      { cause: error },
    );
  }
}

/** So that an address in use is told at once, not after the database was made and the demo loaded. */
async function checkAddress(env: Env): Promise<void> {
  const probe = createServer();
  await listen(probe, env);
  await new Promise<void>((resolve) => probe.close(() => resolve()));
}

function listen(server: Server, env: Env): Promise<AddressInfo> {
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      const at = `${env.HOST}:${env.PORT}`;
      const sentence =
        error.code === 'EADDRINUSE'
          ? `Something else listens on ${at} already: stop it, or set PORT to another number.`
          : `Stemline cannot listen on ${at} (${error.code ?? error.message}): set HOST and PORT to an address of this machine.`;
      reject(new CannotStart(sentence, { cause: error }));
    });
    server.listen(env.PORT, env.HOST, () => resolve(server.address() as AddressInfo));
  });
}
