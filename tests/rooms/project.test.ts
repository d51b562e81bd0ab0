import { execFile } from 'node:child_process';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { describe, expect, it } from 'vitest';
import { projectRoot } from '../../apps/server/src/env.ts';

const run = promisify(execFile);

/** Every version of yjs in a tree as npm prints it. */
function versionsIn(tree: unknown, found = new Set<string>()): Set<string> {
  if (typeof tree !== 'object' || tree === null) return found;
  const { dependencies = {} } = tree as { dependencies?: Record<string, { version?: string }> };
  for (const [name, below] of Object.entries(dependencies)) {
    if (name === 'yjs' && below.version) found.add(below.version);
    versionsIn(below, found);
  }
  return found;
}

async function* testFiles(folder: string): AsyncGenerator<string> {
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    if (entry.name === 'node_modules' || entry.name === 'dist') continue;
    const path = join(folder, entry.name);
    if (entry.isDirectory()) yield* testFiles(path);
    else if (/\.test\.tsx?$/.test(entry.name)) yield path;
  }
}

describe('the project', () => {
  it('has one yjs: two would not know each other’s types', async () => {
    const { stdout } = await run('npm', ['ls', 'yjs', '--all', '--json'], { cwd: projectRoot });
    const versions = [...versionsIn(JSON.parse(stdout))];
    expect(versions).toHaveLength(1);
    expect(versions[0]).toMatch(/^13\./);
  }, 60_000);

  it('asserts nothing on time: no expectation of what a clock said', async () => {
    const timed =
      /expect\([^\n]*(performance\.now|hrtime|elapsed|\bms\b|took)[^\n]*\)\s*\.(not\.)?toBe(Less|Greater)/i;
    const guilty: string[] = [];
    let read = 0;
    for (const folder of ['apps', 'packages', 'tests']) {
      for await (const file of testFiles(join(projectRoot, folder))) {
        read += 1;
        const lines = (await readFile(file, 'utf8')).split('\n');
        lines.forEach((line, i) => {
          if (timed.test(line)) guilty.push(`${file.slice(projectRoot.length)}:${i + 1}`);
        });
      }
    }
    expect(read).toBeGreaterThan(50);
    expect(guilty).toEqual([]);
  });
});
