import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { getPriority, tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { builtInLooks } from '@stemline/football/shelf';
import { branchSchema, cardHeadSchema, rowSchema } from '@stemline/read-rules/card';
import { check } from '@stemline/read-rules/check';
import { asPlayerId, handPlay } from '@stemline/testkit/plays';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Checker, type CheckerDeps, CheckingEnded, TooManyChecks } from './checker.ts';

const looks = builtInLooks.slice(0, 3);
const room = (boardId: string, staffId = 'Harbour') => ({ boardId, staffId });
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
let checker: Checker | null = null;
let notes: { what: string; details: Record<string, unknown> }[] = [];
let folder: string;

beforeEach(() => {
  notes = [];
  folder = mkdtempSync(join(tmpdir(), 'stemline-checks-'));
});
afterEach(async () => {
  await checker?.close();
  rmSync(folder, { recursive: true, force: true });
});

function open(deps: Partial<CheckerDeps> = {}): Checker {
  checker = new Checker({
    threads: 1,
    maxWaiting: 100,
    patienceMs: 60_000,
    keepMs: 60_000,
    note: (what, details) => notes.push({ what, details }),
    ...deps,
  });
  return checker;
}

/** A thread that does what is written here in place of the rule check. */
function script(body: string): URL {
  const file = join(folder, 'thread.mjs');
  writeFileSync(file, `import { parentPort, workerData } from 'node:worker_threads';\n${body}`);
  return pathToFileURL(file);
}

/** A card of so many rows, of which each but the first leaves a gap before it. */
function tangled(rows: number) {
  const H = asPlayerId('H');
  const branch = (id: string, finish: 'in' | 'out') =>
    branchSchema.parse({
      id,
      name: id,
      kind: 'route',
      finish: { kind: finish, angle: 80, run: 6 },
      release: { side: 'free', hesitate: 0 },
      decideBy: 3,
      breakAt: { from: 5, to: 6 },
      eyes: 0.3,
    });
  const head = cardHeadSchema.parse({
    title: 'Option',
    key: {
      levels: ['line', 'second', 'corner'],
      maxDepth: 8,
      over: null,
      direction: 'inside',
      reach: 8,
      headUp: 0.5,
      tie: 0.2,
    },
    sideMan: { width: 4, depth: 5 },
    policy: 'unique',
    whenInDoubt: 'out',
    noKey: 'out',
  });
  return handPlay({
    cards: [
      {
        player: H,
        head,
        branches: [branch('in', 'in'), branch('out', 'out')],
        rows: Array.from({ length: rows }, (_, i) =>
          rowSchema.parse({
            id: `row${i}`,
            conditions: [
              {
                kind: 'range',
                fact: 'keyOffset',
                from: { at: i / 100, closed: true },
                to: { at: i / 100 + 0.015, closed: false },
              },
            ],
            branch: i % 2 === 0 ? 'in' : 'out',
            says: '',
          }),
        ),
      },
    ],
  });
}

const idsOf = (findings: readonly { id: string }[]): string[] => findings.map(({ id }) => id);

describe('R64 the rule check runs on a thread of its own', () => {
  it('says what the rule check says, for each room with its own looks', async () => {
    const here = open();
    const plays = [handPlay(), tangled(4)];
    for (const play of [...plays, ...plays]) {
      expect(idsOf(await here.check(room('a'), play, looks))).toEqual(idsOf(check(play, looks)));
      expect(idsOf(await here.check(room('b', 'Quay'), play, []))).toEqual(idsOf(check(play, [])));
    }
    expect(notes).toEqual([]);
  });

  /** Answers with what it was asked until now, each ask as one word, and only once it may. */
  const scribe = (): { script: URL; go: () => void } => {
    const gate = join(folder, 'go');
    return {
      script: script(`
        import { existsSync } from 'node:fs';
        const asked = [];
        const may = async () => {
          while (!existsSync(${JSON.stringify(gate)})) await new Promise((next) => setTimeout(next, 5));
        };
        parentPort.postMessage({ kind: 'ready' });
        parentPort.on('message', async ({ kind, id, room, looks, isLast }) => {
          const more = kind === 'check' ? looks && 'with looks' : isLast && 'and its staff';
          asked.push([kind, room.boardId, more].filter(Boolean).join(' '));
          if (kind === 'forget') return;
          await may();
          parentPort.postMessage({ kind: 'checked', id, findings: asked.map((id) => ({ id })) });
        });`),
      go: () => writeFileSync(gate, ''),
    };
  };

  it('R65 the looks of a staff cross once, and are given up with its last room', async () => {
    const { script: url, go } = scribe();
    const here = open({ script: url });
    go();
    await here.check(room('a'), handPlay(), looks);
    await here.check(room('b'), handPlay(), looks);
    await here.check(room('b'), handPlay(), [...looks]);
    here.forget(room('a'));
    here.forget(room('a'));
    here.forget(room('b'));
    const said = await here.check(room('c'), handPlay(), looks);
    expect(said.map(({ id }) => id)).toEqual([
      'check a with looks',
      'check b',
      'check b with looks',
      'forget a',
      'forget b and its staff',
      'check c with looks',
    ]);
  });

  it('R81 a board that goes while its check is under way, or waits, is remembered nowhere', async () => {
    const { script: url, go } = scribe();
    const here = open({ script: url });
    const [a, b] = ['a', 'b'].map((id) => here.check(room(id), handPlay(), looks));
    here.forget(room('a'));
    here.forget(room('b'));
    await expect(b).rejects.toThrow('not checked any more');
    go();
    await a;
    expect(here.size).toBe(0);
    const said = await here.check(room('c'), handPlay(), looks);
    expect(said.map(({ id }) => id)).toEqual([
      'check a with looks',
      'forget a and its staff',
      'check c with looks',
    ]);
  });

  it('R81 a board that goes while its thread dies under its check is not asked for again', async () => {
    const here = open({
      script: script(
        `parentPort.postMessage({ kind: 'ready' }); parentPort.on('message', ({ kind }) => kind === 'forget' && process.exit(3));`,
      ),
    });
    const checked = here.check(room('a'), handPlay(), looks);
    here.forget(room('a'));
    await expect(checked).rejects.toThrow('exited');
    expect(here.size).toBe(0);
  });

  it.runIf(process.platform === 'linux')('gives way to everything else of the server', async () => {
    // proc(5): after the name in brackets, `nice` is the 17th field.
    const niceness = (): number[] =>
      readdirSync('/proc/self/task').map((id) => {
        const stat = readFileSync(`/proc/self/task/${id}/stat`, 'latin1');
        return Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[16]);
      });
    const before = niceness().filter((nice) => nice > 0).length;
    const own = getPriority();
    await open().check(room('a'), handPlay(), looks);
    expect(niceness().filter((nice) => nice > 0)).toHaveLength(before + 1);
    expect(getPriority()).toBe(own);
  });

  it('a long check leaves the event loop to others', async () => {
    const here = open();
    await here.check(room('warm'), handPlay(), looks);
    const play = tangled(200);
    let turns = 0;
    let done = false;
    const checked = here.check(room('long'), play, looks).finally(() => {
      done = true;
    });
    while (!done) {
      await new Promise((resolve) => setTimeout(resolve, 1));
      turns += 1;
    }
    expect((await checked).length).toBeGreaterThan(0);
    expect(turns).toBeGreaterThan(3);
  });

  it('a thread that dies is replaced, and the check asked again', async () => {
    const here = open({
      script: script(`
        import { existsSync, writeFileSync } from 'node:fs';
        const once = ${JSON.stringify(join(folder, 'died'))};
        parentPort.postMessage({ kind: 'ready' });
        parentPort.on('message', ({ kind, id, looks }) => {
          if (kind === 'forget') return;
          if (!existsSync(once)) { writeFileSync(once, ''); process.exit(3); }
          parentPort.postMessage({ kind: 'checked', id, findings: [{ id: 'with looks: ' + (looks !== null) }] });
        });`),
    });
    const findings = await here.check(room('a'), handPlay(), looks);
    expect(idsOf(findings)).toEqual(['with looks: true']);
    expect(notes).toMatchObject([{ details: { wasReady: true, why: 'it exited with code 3' } }]);
  });

  it('a check that takes too long costs its thread, and is told as failed after a second try', async () => {
    const here = open({
      patienceMs: 50,
      script: script(
        `parentPort.postMessage({ kind: 'ready' }); parentPort.on('message', () => {});`,
      ),
    });
    await here.check(room('a'), handPlay(), looks).then(
      () => expect.unreachable('it cannot have been checked'),
      (error: Error) => expect(error.message).toMatch(/took longer|exited/),
    );
    expect(notes).toHaveLength(2);
  });

  it('where no thread begins it runs here, and says so', async () => {
    const here = open({ script: pathToFileURL(join(folder, 'not there.mjs')) });
    const play = tangled(4);
    expect(idsOf(await here.check(room('a'), play, looks))).toEqual(idsOf(check(play, looks)));
    expect(notes.map(({ what }) => what)).toEqual([
      'a thread of the rule check ended',
      'the rule check runs on the event loop: no thread can be had',
    ]);
  });

  /** A thread that is at work for 10 ms with each check, and finds nothing. */
  const busy = (): URL =>
    script(`
      parentPort.postMessage({ kind: 'ready' });
      parentPort.on('message', ({ kind, id }) => {
        if (kind !== 'check') return;
        for (const until = performance.now() + 10; performance.now() < until; );
        parentPort.postMessage({ kind: 'checked', id, findings: [] });
      });`);

  it('R64 R65 a thread pauses after a check, and what somebody waits for goes first and waits for no pause', async () => {
    const here = open({ script: busy() });
    const ended: string[] = [];
    const check = (board: string, isUrgent: boolean): Promise<unknown> =>
      here.check(room(board), handPlay(), looks, { isUrgent }).then(() => ended.push(board));
    await check('warm', false);
    const all = [check('a', false), check('b', false), check('c', false)];
    await here.check(room('frozen'), handPlay(), looks, { isUrgent: true });
    // Without a pause the first of them would have begun before it.
    expect(ended).toEqual(['warm']);
    await Promise.all(all);
    expect(ended).toEqual(['warm', 'a', 'b', 'c']);
  });

  /** The kernel's count of threads of this process. */
  const threads = (): number => readdirSync('/proc/self/task').length;

  it.runIf(process.platform === 'linux')(
    'R64 a thread that knows no board any more ends after a while, and the next check has another',
    async () => {
      const before = threads();
      const here = open({ keepMs: 50 });
      const play = tangled(4);
      await here.check(room('a'), play, looks);
      await here.check(room('b'), play, looks);
      const atWork = threads();
      expect(atWork).toBeGreaterThan(before);
      here.forget(room('a'));
      await pause(150);
      // Of the other board it knows what its last check has shown.
      expect(threads()).toBe(atWork);
      here.forget(room('b'));
      await here.check(room('c'), play, looks);
      await pause(150);
      expect(threads()).toBe(atWork);
      here.forget(room('c'));
      await vi.waitFor(() => expect(threads()).toBeLessThan(atWork));
      expect(idsOf(await here.check(room('a'), play, looks))).toEqual(idsOf(check(play, looks)));
      expect(notes).toEqual([]);
    },
  );

  it('R64 a check under way for a board that went is no reason to end its thread', async () => {
    const here = open({ keepMs: 1, script: busy() });
    const checked = here.check(room('a'), handPlay(), looks);
    here.forget(room('a'));
    await checked;
    await pause(50);
    await here.check(room('b'), handPlay(), looks);
    expect(notes).toEqual([]);
  });

  it('what waits for a thread is bounded', async () => {
    const here = open({
      maxWaiting: 2,
      script: script(
        `parentPort.postMessage({ kind: 'ready' }); parentPort.on('message', () => {});`,
      ),
    });
    const waiting = [1, 2].map(() =>
      here.check(room('a'), handPlay(), looks).catch((error) => error),
    );
    await expect(here.check(room('a'), handPlay(), looks)).rejects.toThrow(TooManyChecks);
    await here.close();
    for (const one of await Promise.all(waiting)) expect(one).toBeInstanceOf(CheckingEnded);
    await expect(here.check(room('a'), handPlay(), looks)).rejects.toThrow(CheckingEnded);
  });
});
