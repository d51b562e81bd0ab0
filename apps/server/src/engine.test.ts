import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { describe, expect, it } from 'vitest';
import { inOrderOfStart } from './engine.ts';
import { projectRoot } from './env.ts';

const run = promisify(execFile);

/** Of a process of its own: what it does to its threads cannot be undone. */
const script = `
  import { readFileSync, readdirSync } from 'node:fs';
  import { getPriority } from 'node:os';
  import { register } from 'tsx/esm/api';
  register();
  const { tuneEngine } = await import('./apps/server/src/engine.ts');
  // proc(5): after the name in brackets, nice is the 17th field.
  const niceness = () => readdirSync('/proc/self/task').map((id) => {
    const stat = readFileSync('/proc/self/task/' + id + '/stat', 'latin1');
    return Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[16]);
  });
  const own = getPriority();
  const before = niceness();
  const why = tuneEngine();
  const after = niceness();
  const behind = (nices) => nices.filter((nice) => nice > own).length;
  console.log(JSON.stringify({
    why,
    more: behind(after) - behind(before),
    raised: after.filter((nice) => nice < own).length,
    isOwnAsBefore: getPriority() === own,
  }));
`;

/** What came of it, in a process that is as nice as that. */
async function tuned(nice: number): Promise<unknown> {
  const words = ['-n', `${nice}`, process.execPath, '--input-type=module', '--eval', script];
  const { stdout, stderr } = await run('nice', words, { cwd: projectRoot });
  // V8 says there what it does not know.
  expect(stderr).toBe('');
  return JSON.parse(stdout);
}

describe.runIf(process.platform === 'linux')('tuneEngine', () => {
  it('has the threads that compile give way, and not the one that serves', async () => {
    expect(await tuned(0)).toEqual({ why: null, more: 5, raised: 0, isOwnAsBefore: true });
  }, 30_000);

  it('raises nothing in a server that gives way itself', async () => {
    expect(await tuned(12)).toEqual({ why: null, more: 0, raised: 0, isOwnAsBefore: true });
  }, 30_000);
});

describe('inOrderOfStart', () => {
  it('leaves out the thread that serves', () => {
    expect(inOrderOfStart(40, [43, 40, 41, 42])).toEqual([41, 42, 43]);
  });

  it('knows those after the end of the ids as later ones', () => {
    expect(inOrderOfStart(32_766, [7, 32_766, 301, 32_767, 302])).toEqual([32_767, 7, 301, 302]);
  });
});
