import { type ChildProcess, spawn } from 'node:child_process';
import { join } from 'node:path';
import { projectRoot } from '../../../apps/server/src/env.ts';
import type { FromLoad, Job, ToLoad } from './jobs.ts';

/** What happens at the moments that a load announces; it waits until it is done. */
export interface Moments {
  begins?: () => Promise<void>;
  ends?: () => Promise<void>;
  ready?: () => Promise<void>;
}

/** Does one job in a process of its own. */
export async function load<Result>(job: Job, moments: Moments = {}): Promise<Result> {
  const child = spawn(process.execPath, ['--import', 'tsx', join(import.meta.dirname, 'load.ts')], {
    cwd: projectRoot,
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
    serialization: 'advanced',
  });
  try {
    return (await work(child, job, moments)) as Result;
  } finally {
    child.kill('SIGKILL');
  }
}

function work(child: ChildProcess, job: Job, moments: Moments): Promise<unknown> {
  const send = (message: ToLoad): boolean => child.send(message);
  return new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('exit', (code) => reject(new Error(`the load ended with ${code}`)));
    child.on('message', (message: FromLoad) => {
      if (message.said === 'done') resolve(message.result);
      else if (message.said === 'failed') reject(new Error(message.why));
      else Promise.resolve(moments[message.said]?.()).then(() => send({ go: true }), reject);
    });
    send({ job });
  });
}
