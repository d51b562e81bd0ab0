import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { problemSchema } from '@stemline/protocol/problem';
import { findingSchema } from '@stemline/read-rules/finding';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { built, mapped } from '../built.ts';

const root = fileURLToPath(new URL('../../../../', import.meta.url));
const sample = (name: string): string => join(root, 'tests/published/plays', `${name}.json`);

interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** The command as npm runs it, in a process of its own. */
const run = (...args: readonly string[]): Promise<Ran> =>
  new Promise((done) => {
    execFile(
      process.execPath,
      [mapped, built('check'), ...args],
      { cwd: root, maxBuffer: 2 ** 26 },
      (error, out, err) =>
        done({ code: typeof error?.code === 'number' ? error.code : 0, out, err }),
    );
  });

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'stemline-check-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function write(name: string, text: string): string {
  const file = join(folder, `${name}.json`);
  writeFileSync(file, text);
  return file;
}

// biome-ignore lint/suspicious/noExplicitAny: the point is to write what no type allows.
type Loose = any;

/** The good play with one thing changed, as a file. */
function spoiled(name: string, change: (file: Loose) => void): string {
  const file: Loose = JSON.parse(readFileSync(sample('lantern'), 'utf8'));
  change(file);
  return write(name, JSON.stringify(file));
}

const findingsIn = ({ out }: Ran) => findingSchema.array().parse(JSON.parse(out));
const problemsIn = ({ err }: Ran) =>
  err
    .trim()
    .split('\n')
    .map((line) => problemSchema.parse(JSON.parse(line)));

describe('npm run check', () => {
  it('ends with 0 and no findings for a clean play', async () => {
    const ran = await run(sample('lantern'));
    expect(ran).toMatchObject({ code: 0, err: '' });
    expect(findingsIn(ran)).toEqual([]);
  });

  it('ends with 1 where something stops the play, and 0 where nothing does', async () => {
    const gap = await run(sample('lantern-gap'));
    expect(gap.code).toBe(1);
    const [first] = findingsIn(gap);
    expect(first).toMatchObject({
      kind: 'gap',
      severity: 'stop',
      says: 'When the key sits 2.0 to 4.0 yd inside and does not rush, no row answers.',
    });
    expect(first?.witness?.look.defenders).toHaveLength(11);
    const clash = await run(sample('lantern-clash'));
    expect(clash.code).toBe(1);
    expect(findingsIn(clash)[0]).toMatchObject({ kind: 'clash', severity: 'stop' });
    const unused = await run(sample('lantern-never-used'));
    expect(unused.code).toBe(0);
    expect(findingsIn(unused).filter(({ kind }) => kind === 'neverUsed')).toHaveLength(3);
  });

  it('takes several files, and the worst of them gives the code', async () => {
    const ran = await run(sample('lantern'), sample('lantern-gap'));
    expect(ran.code).toBe(1);
    const told: { file: string; findings: { kind: string; severity: string }[] }[] = JSON.parse(
      ran.out,
    );
    const stops = told.map(({ file, findings }) => [
      file,
      findings.filter(({ severity }) => severity === 'stop').map(({ kind }) => kind),
    ]);
    expect(stops).toEqual([
      [sample('lantern'), []],
      [sample('lantern-gap'), ['gap']],
    ]);
    expect((await run(sample('lantern'), join(folder, 'nowhere.json'))).code).toBe(2);
  });

  it('takes no card without rows and no way of somebody who is not there, and names the place', async () => {
    const bare = await run(spoiled('no-rows', ({ play }) => (play.cards[0].rows = [])));
    expect(bare).toMatchObject({ code: 2, out: '' });
    expect(problemsIn(bare)[0]?.where?.map(({ path }) => path)).toEqual(['$.play.cards[0].rows']);
    const nobody = spoiled('nobody', ({ play }) => {
      play.routes.nobody = { ...play.routes[Object.keys(play.routes)[0] as string] };
      play.motions.nobody = { path: [[1, 0]], atSnap: 'set' };
    });
    expect(problemsIn(await run(nobody))[0]?.where?.map(({ path }) => path)).toEqual([
      '$.play.routes.nobody',
      '$.play.motions.nobody',
    ]);
  });

  it('reads past a byte order mark', async () => {
    const marked = write('marked', `\uFEFF${readFileSync(sample('lantern'), 'utf8')}`);
    expect(await run(marked)).toMatchObject({ code: 0, err: '' });
  });

  it('takes looks as they stand on the board, and names what keeps one from being a defence', async () => {
    const men = (): Loose[] =>
      [-3.3, -0.5, 1.9, 3.3]
        .map((x, i) => ({ id: `l${i}`, label: 'E', level: 'line', at: [x, 0.8] }))
        .concat(
          [-10, -3, 3, 10].map((x, i) => ({
            id: `b${i}`,
            label: 'LB',
            level: 'second',
            at: [x, 5],
          })),
          [-18, 18].map((x, i) => ({ id: `c${i}`, label: 'C', level: 'corner', at: [x, 7] })),
          [{ id: 'fs', label: 'FS', level: 'deep', at: [0, 13] }],
        );
    const withLook = (name: string, change: (defenders: Loose[]) => Loose[]) =>
      spoiled(name, (file) => {
        file.drawnLooks = [{ id: 'ours', name: 'Ours', defenders: change(men()) }];
      });
    expect((await run(withLook('drawn', (all) => all))).code).toBe(0);
    const where = async (name: string, change: (defenders: Loose[]) => Loose[]) => {
      const ran = await run(withLook(name, change));
      expect(ran).toMatchObject({ code: 2, out: '' });
      return problemsIn(ran)[0]?.where?.map(({ path }) => path);
    };
    expect(await where('ten', (all) => all.slice(1))).toEqual(['$.drawnLooks[0].defenders']);
    expect(
      await where('offside', ([first, ...rest]) => [{ ...first, at: [-3.3, -0.2] }, ...rest]),
    ).toEqual(['$.drawnLooks[0].defenders[0].at']);
    expect(await where('one-place', ([a, b, ...rest]) => [a, { ...b, at: a.at }, ...rest])).toEqual(
      ['$.drawnLooks[0].defenders[1].at'],
    );
  });

  it('checks against the shelf of the file', async () => {
    const bare = await run(
      spoiled('no-looks', (file) => {
        file.looks = [];
        file.play = JSON.parse(readFileSync(sample('lantern-gap'), 'utf8')).play;
      }),
    );
    // Without a shelf nothing can be stood on the board, so the gap is no more than a note.
    expect(findingsIn(bare).find(({ kind }) => kind === 'gap')).toMatchObject({
      severity: 'note',
      witness: null,
    });
    expect(bare.code).toBe(0);
  });

  it('prints the JSON Schema of a file, with what may be asked of each fact', async () => {
    const ran = await run('--schema');
    expect(ran.code).toBe(0);
    expect(JSON.parse(ran.out)).toMatchObject({ type: 'object', required: ['play'] });
    expect(ran.out).toContain('keyMove: oneOf rush, drop, wall, widen, man, sit.');
  });
});

/** What is spoiled, where that is told, and how to spoil it. */
const spoilers: readonly (readonly [string, string, (file: Loose) => void])[] = [
  [
    'nothing but a number',
    '$',
    (file) => {
      delete file.play;
      file[0] = 3;
    },
  ],
  [
    'a number too great to be finite',
    '$.play.players[0].at[0]',
    (file) => {
      file.play.players[0].at[0] = 'HUGE';
    },
  ],
  [
    'twelve players',
    '$.play.players',
    (file) => {
      file.play.players.push({ ...file.play.players[0], id: 'twelfth' });
    },
  ],
  [
    'two players with one id',
    '$.play.players[1].id',
    (file) => {
      file.play.players[1].id = file.play.players[0].id;
    },
  ],
  [
    'two cards for a player',
    '$.play.cards[1].player',
    (file) => {
      file.play.cards[1].player = 'h';
    },
  ],
  [
    'a route without points',
    '$.play.routes.h.stem',
    (file) => {
      file.play.routes.h.stem = [];
    },
  ],
  [
    'a fact that is unknown',
    '$.play.cards[0].rows[0].conditions[0].fact',
    (file) => {
      file.play.cards[0].rows[0].conditions[0].fact = 'mood';
    },
  ],
  [
    'a condition that does not fit its fact',
    '$.play.cards[0].rows[0].conditions[0].kind',
    (file) => {
      file.play.cards[0].rows[0].conditions[0] = { kind: 'is', fact: 'keyOffset', value: true };
    },
  ],
  [
    'a bound outside the domain',
    '$.play.cards[0].rows[5].conditions[0].from.at',
    (file) => {
      file.play.cards[0].rows[5].conditions[0].from.at = 21;
    },
  ],
  [
    'a value that the fact never has',
    '$.play.cards[0].rows[2].conditions[0].values[0]',
    (file) => {
      file.play.cards[0].rows[2].conditions[0].values[0] = 'sleep';
    },
  ],
  [
    'two rows with one id',
    '$.play.cards[0].rows[1].id',
    (file) => {
      file.play.cards[0].rows[1].id = file.play.cards[0].rows[0].id;
    },
  ],
  [
    'two branches with one id',
    '$.play.cards[0].branches[1].id',
    (file) => {
      file.play.cards[0].branches[1].id = file.play.cards[0].branches[0].id;
    },
  ],
  [
    'a key that is not in the format',
    '$.play',
    (file) => {
      file.play.mood = 'good';
    },
  ],
  [
    'a look of ten',
    '$.looks[0].defenders',
    (file) => {
      file.looks = [
        {
          id: 'ten',
          name: 'Ten',
          traits: { front: 'even', shell: 'zero', middle: 'open', coverage: 'man' },
          defenders: [],
        },
      ];
    },
  ],
];

describe('npm run check on bad input', () => {
  let ran: Ran;
  let files: readonly string[];
  beforeAll(async () => {
    files = spoilers.map(([name, , change]) => {
      const file = spoiled(name.replaceAll(' ', '-'), change);
      // JSON has no infinity, but it has numbers that become one.
      const text = readFileSync(file, 'utf8');
      return text.includes('"HUGE"') ? write('huge', text.replace('"HUGE"', '1e999')) : file;
    });
    ran = await run(...files);
  });

  it('ends with 2, prints no findings and one problem a file', () => {
    expect(ran.code).toBe(2);
    expect(JSON.parse(ran.out)).toEqual([]);
    expect(problemsIn(ran)).toHaveLength(spoilers.length);
  });

  it.each(spoilers.map(([name, path], i) => [name, path, i] as const))(
    '%s is refused with its place',
    (_, path, i) => {
      const problem = problemsIn(ran)[i];
      expect(problem).toMatchObject({ type: '/problems/bad-play' });
      expect(problem?.detail).toContain(files[i]);
      expect(problem?.where?.map((one) => one.path)).toContain(path);
      expect(problem?.where?.every(({ message }) => message.length > 5)).toBe(true);
    },
  );

  it('a file that is not there, not JSON or empty is told apart', async () => {
    const none = await run(join(folder, 'nowhere.json'));
    expect(none).toMatchObject({ code: 2, out: '' });
    expect(problemsIn(none)).toMatchObject([{ type: '/problems/no-file' }]);
    const broken = await run(write('cut', '{"play": {"name": "Lant'), write('empty', ''));
    expect(broken.code).toBe(2);
    expect(problemsIn(broken).map(({ type }) => type)).toEqual([
      '/problems/not-json',
      '/problems/not-json',
    ]);
  });

  it('no file, or an option that it does not know, is a usage problem', async () => {
    for (const args of [[], ['--fast']]) {
      const usage = await run(...args);
      expect(usage).toMatchObject({ code: 2, out: '' });
      expect(problemsIn(usage)).toMatchObject([{ type: '/problems/usage' }]);
    }
  });
});
