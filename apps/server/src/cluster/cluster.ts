import { CannotStart } from '../cannot-start.ts';
import { startEmbeddedPostgres } from '../embedded/postgres.ts';
import { readOrMakeSecret } from '../embedded/secret.ts';
import type { Env } from '../env.ts';
import { type FrontDoor, openFrontDoor } from './front-door.ts';
import { Member } from './member.ts';
import { startRedis } from './redis.ts';

/** Several servers behind one port. */
export interface Cluster {
  /** Ends everything in good order; the exit codes of the servers. */
  stop(): Promise<(number | null)[]>;
}

interface Words {
  say: (sentence: string) => void;
  complain: (sentence: string) => void;
}

/** Starts them with what they share; throws `CannotStart` with a sentence, leaving nothing running. */
export async function startCluster(
  env: Env,
  processes: number,
  { say, complain }: Words,
): Promise<Cluster> {
  const started: (() => Promise<void>)[] = [];
  const codes: (number | null)[] = [];
  const endAll = async (): Promise<(number | null)[]> => {
    for (const end of started.splice(0).reverse()) await end();
    return codes;
  };
  try {
    const database = env.DATABASE_URL ?? (await embedded(env, say, complain, started));
    const redis = env.REDIS_URL ?? (await ownRedis(complain, started));
    const shared = {
      DATABASE_URL: database,
      REDIS_URL: redis,
      AUTH_SECRET: env.AUTH_SECRET ?? (await readOrMakeSecret(env.DATA_DIR, 'auth-secret')),
      DATA_DIR: env.DATA_DIR,
      DEMO: env.demo ? '1' : '0',
      HOST: '127.0.0.1',
      // The front door says where a caller comes from.
      TRUST_PROXY: '1',
    };
    const members = Array.from({ length: processes }, () => new Member(shared, complain));
    let door: FrontDoor | null = null;
    started.push(async () => {
      door?.shut();
      codes.push(...(await Promise.all(members.map((member) => member.stop()))));
      door?.end();
    });
    // The first one migrates and loads the demo; the others find it done.
    for (const member of members) await member.start();
    const opened = await openFrontDoor(env, () =>
      members.flatMap(({ address }) => (address === null ? [] : [address])),
    );
    door = opened;
    say(members[0]?.greeting(opened.url) ?? '');
    say(`${processes} servers behind that address; they share one PostgreSQL and one Redis.`);
    say(`Metrics of each: ${members.map(({ address }) => `${address}/metrics`).join(', ')}`);
    return { stop: endAll };
  } catch (error) {
    await endAll();
    throw error;
  }
}

async function embedded(
  env: Env,
  say: (sentence: string) => void,
  complain: (sentence: string) => void,
  started: (() => Promise<void>)[],
): Promise<string> {
  const postgres = await startEmbeddedPostgres({
    dataDir: env.DATA_DIR,
    say,
    onRestart: (why) => complain(`PostgreSQL ended and is started again: ${why}`),
  });
  started.push(() => postgres.stop());
  return postgres.url;
}

async function ownRedis(
  complain: (sentence: string) => void,
  started: (() => Promise<void>)[],
): Promise<string> {
  try {
    const redis = await startRedis((why) => complain(`Redis is started again: ${why}`));
    started.push(() => redis.stop());
    return redis.url;
  } catch (error) {
    if (!(error instanceof CannotStart)) throw error;
    throw new CannotStart(`${error.message} Or set REDIS_URL to one that runs.`, { cause: error });
  }
}
