import pino from 'pino';
import { CannotStart } from './cannot-start.ts';
import { tuneEngine } from './engine.ts';
import { type Env, readEnv } from './env.ts';
import { greeting } from './greeting.ts';
import { createLog } from './log.ts';
import { type Running, startServer } from './server.ts';

/** For the operator, on standard output; the log goes to standard error. */
const say = (sentence: string): void => {
  process.stdout.write(`${sentence}\n`);
};
const complain = (sentence: string): void => {
  process.stderr.write(`${sentence}\n`);
};

// Whoever read what is said here may be gone. That ends nothing, and saying so would fail again, for ever.
for (const stream of [process.stdout, process.stderr]) stream.on('error', () => undefined);

const untuned = tuneEngine();

/** The first signal or failure decides how the process ends; a second one changes nothing. */
const ending = new Promise<{ code: number }>((resolve) => {
  // Ctrl-C in a terminal may come twice, once for each process above us.
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
    process.on(signal, () => resolve({ code: 0 }));
  }
  const fail = (error: unknown): void => {
    complain(
      `Stemline broke and stops: ${error instanceof Error ? (error.stack ?? error.message) : error}`,
    );
    resolve({ code: 1 });
  };
  process.on('uncaughtException', fail);
  process.on('unhandledRejection', fail);
  // npm that is killed outright passes nothing on; it is what the operator started, so we end with it.
  if (process.env.npm_lifecycle_event === 'start') {
    const npm = process.ppid;
    setInterval(() => process.ppid !== npm && resolve({ code: 0 }), 500).unref();
  }
});

async function main(): Promise<number> {
  let env: Env;
  let running: Running;
  try {
    env = readEnv(process.env, { onTerminal: process.stderr.isTTY });
    const log = createLog(env.LOG_LEVEL, pino.destination({ dest: 2, sync: false }));
    if (untuned) log.info({ why: untuned }, 'compiling does not give way to serving');
    running = await startServer(env, log, say);
  } catch (error) {
    if (!(error instanceof CannotStart)) throw error;
    complain(error.message);
    return 1;
  }
  say(await greeting(running, env));
  const { code } = await ending;
  try {
    await running.stop();
  } catch (error) {
    complain(
      `Stemline did not end in good order: ${error instanceof Error ? error.message : error}`,
    );
    return 1;
  }
  say('Stemline has stopped; everything is saved.');
  return code;
}

process.exitCode = await main();
// Nothing of ours is left to wait for; a library's idle timer must not keep the process.
process.exit();
