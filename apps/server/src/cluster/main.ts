import { parseArgs } from 'node:util';
import { z } from 'zod';
import { CannotStart } from '../cannot-start.ts';
import { readEnv } from '../env.ts';
import { type Cluster, startCluster } from './cluster.ts';

const say = (sentence: string): void => {
  process.stdout.write(`${sentence}\n`);
};
const complain = (sentence: string): void => {
  process.stderr.write(`${sentence}\n`);
};

/** The first signal decides; a second one changes nothing. */
const ending = new Promise<void>((resolve) => {
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const)
    process.on(signal, () => resolve());
  if (process.env.npm_lifecycle_event === 'cluster') {
    const npm = process.ppid;
    setInterval(() => process.ppid !== npm && resolve(), 500).unref();
  }
});

async function main(): Promise<number> {
  const { values } = parseArgs({ options: { processes: { type: 'string', default: '2' } } });
  const processes = z.coerce.number().int().min(1).max(64).safeParse(values.processes);
  if (!processes.success) {
    complain('Say how many as a number from 1 to 64: npm run cluster -- --processes=3');
    return 2;
  }
  let cluster: Cluster;
  try {
    const env = readEnv(process.env, { onTerminal: process.stderr.isTTY });
    cluster = await startCluster(env, processes.data, { say, complain });
  } catch (error) {
    if (!(error instanceof CannotStart)) throw error;
    complain(error.message);
    return 1;
  }
  await ending;
  const codes = await cluster.stop();
  const isGood = codes.every((code) => code === 0);
  if (isGood) say('All servers have stopped; everything is saved.');
  else complain('A server did not end in good order.');
  return isGood ? 0 : 1;
}

process.exitCode = await main();
process.exit();
