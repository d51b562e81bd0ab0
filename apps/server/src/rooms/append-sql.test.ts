import type { ElementKey } from '@stemline/board/element-key';
import fc from 'fast-check';
import type { QueryConfig } from 'pg';
import { beforeAll, describe, expect, it } from 'vitest';
import { startApp, type TestApp } from '../testing/app.ts';
import type { Person } from '../testing/person.ts';
import { appendFew } from './append-few-sql.ts';
import { appendMany } from './append-many-sql.ts';
import { appendOne } from './append-one-sql.ts';
import { appendAll } from './append-sql.ts';
import type { Author, BoardAppend } from './store.ts';

let stage: TestApp;
let head: Person;
let staff: string;

beforeAll(async () => {
  stage = await startApp();
  head = await stage.person('Head');
  staff = await head.foundsStaff('Alder');
});

const board = async (): Promise<{ id: string; revision: number; member: string }> => {
  const id = await head.drawsUp(staff, 'Sail');
  const { revision, createdBy } = await stage.prisma.board.findUniqueOrThrow({ where: { id } });
  return { id, revision, member: createdBy };
};

const elements: ElementKey[] = ['spots/H', 'spots/X', 'routes/H', 'notes'];
const text = fc.oneof(fc.string({ maxLength: 12 }), fc.string({ unit: 'binary', maxLength: 12 }));
const bytes = fc.uint8Array({ maxLength: 40 });
const when = fc.date({
  min: new Date('2026-01-01'),
  max: new Date('2027-01-01'),
  noInvalidDate: true,
});

/** Everything an append may hold, of a board and a member still to be named. */
const content = fc.record({
  updates: fc.array(fc.record({ bytes, at: when, rebased: fc.option(bytes) }), {
    minLength: 1,
    maxLength: 4,
  }),
  clients: fc.uniqueArray(fc.maxSafeNat(), { maxLength: 3 }),
  authors: fc.dictionary(
    fc.constantFrom(...elements),
    fc.option(fc.record({ name: fc.string({ maxLength: 8 }).map(withoutNul), at: when })),
  ),
  line: fc.record({ name: text, concept: text, formation: text }),
});

type Content = typeof content extends fc.Arbitrary<infer Value> ? Value : never;

function withoutNul(given: string): string {
  return given.replaceAll('\0', '');
}

function appendOf(
  { updates, clients, authors, line }: Content,
  { id, revision, member }: { id: string; revision: number; member: string },
): BoardAppend {
  return {
    boardId: id,
    base: revision,
    updates: updates.map((update) => ({ ...update, memberId: member })),
    clients: new Map(clients.map((client) => [client, member])),
    authors: new Map(
      Object.entries(authors).map(([element, author]): [ElementKey, Author | null] => [
        element as ElementKey,
        author && { ...author, memberId: member },
      ]),
    ),
    line,
  };
}

const plainUpdate = { bytes: Buffer.of(1), at: new Date('2026-09-01T10:00:00Z'), rebased: null };
const plainAuthor = { name: 'Head', at: new Date('2026-09-01T10:00:00Z') };
const plainest: Content = {
  updates: [plainUpdate],
  clients: [],
  authors: { notes: plainAuthor },
  line: { name: 'Sail', concept: 'Flood', formation: 'Doubles' },
};

/** All that an append may have written of a board, without its own ids. */
async function written(id: string): Promise<unknown> {
  const { prisma } = stage;
  const where = { boardId: id };
  const { name, concept, formation, updatedAt, revision } = await prisma.board.findUniqueOrThrow({
    where: { id },
  });
  const updates = await prisma.boardUpdate.findMany({ where, orderBy: { id: 'asc' } });
  const clients = await prisma.boardClient.findMany({ where, orderBy: { clientId: 'asc' } });
  const authors = await prisma.elementAuthor.findMany({ where, orderBy: { element: 'asc' } });
  return {
    book: { name, concept, formation, updatedAt, revision },
    // The first is the board as it was made.
    updates: updates
      .slice(1)
      .map(({ bytes, rebased, memberId, at }) => ({ bytes, rebased, memberId, at })),
    clients: clients.map(({ clientId, memberId }) => ({ clientId, memberId })),
    authors: authors.map(({ element, memberId, name, at }) => ({ element, memberId, name, at })),
  };
}

/** A step of a plan, as far as it is asked for. */
interface Planned {
  Plans?: Planned[];
  'Sort Key'?: string[];
  /** kB. */
  'Sort Space Used'?: number;
}
type Sorted = Planned & { 'Sort Key': string[] };

const sorts = (plan: Planned | undefined): Sorted[] => [
  ...(plan?.['Sort Key'] ? [plan as Sorted] : []),
  ...(plan?.Plans ?? []).flatMap(sorts),
];

const run = async (statement: QueryConfig): Promise<unknown[]> =>
  (await stage.prisma.pool.query(statement)).rows;

type Statement = (append: BoardAppend) => QueryConfig;

/** Whatever is appended, step by step: two statements leave the same rows of two boards. */
const writeAlike = (
  steps: fc.Arbitrary<Content>,
  ...statements: readonly [Statement, Statement]
): Promise<void> =>
  fc.assert(
    fc.asyncProperty(fc.array(steps, { minLength: 1, maxLength: 3 }), async (contents) => {
      const left: unknown[] = [];
      const first = await board();
      for (const made of [first, await board()]) {
        for (const [i, step] of contents.entries()) {
          const at = { ...made, revision: made.revision + i, member: first.member };
          const [row] = await run(statements[left.length === 0 ? 0 : 1](appendOf(step, at)));
          expect(row).toMatchObject({ boardId: made.id, revision: at.revision + 1 });
        }
        left.push(await written(made.id));
      }
      expect(left[0]).toEqual(left[1]);
    }),
    { numRuns: 25 },
  );

describe('an append', () => {
  it('R7: writes one board alone as it does among others', () =>
    writeAlike(content, appendOne, (append) => appendMany([append])));

  it('R7: writes a few of the plainest edits as it does any other', () => {
    const few = fc.record({
      updates: fc.array(fc.record({ bytes, at: when, rebased: fc.constant(null) }), {
        minLength: 1,
        maxLength: 4,
      }),
      clients: fc.constant<number[]>([]),
      authors: fc.dictionary(
        fc.constantFrom(...elements),
        fc.record({ name: text.map(withoutNul), at: when }),
        { minKeys: 1 },
      ),
      line: fc.record({ name: text, concept: text, formation: text }),
    });
    return writeAlike(few, (append) => appendFew(append) ?? { text: 'SELECT 1' }, appendOne);
  });

  it.each<[string, Partial<Content>]>([
    [
      'many updates',
      { updates: [1, 2, 3, 4, 5].map((n) => ({ ...plainUpdate, bytes: Buffer.of(n) })) },
    ],
    ['a rebased update', { updates: [{ ...plainUpdate, rebased: Buffer.of(2) }] }],
    ['a client that is new', { clients: [7] }],
    [
      'many elements',
      { authors: Object.fromEntries([...elements, 'meta/name'].map((one) => [one, plainAuthor])) },
    ],
    ['an element that is gone', { authors: { notes: null } }],
    ['no element', { authors: {} }],
  ])('R7: takes no append with %s for a plain one', async (_, more) => {
    const made = await board();
    const appended = appendOf({ ...plainest, ...more }, made);
    expect(appendFew(appendOf(plainest, made))).not.toBeNull();
    expect(appendFew(appended)).toBeNull();
    expect((await appendAll(stage.prisma, [appended])).get(made.id)).toMatchObject({
      revision: made.revision + 1,
    });
    const { updates } = (await written(made.id)) as { updates: unknown[] };
    expect(updates).toHaveLength(appended.updates.length);
  });

  it('R100: writes nothing of the plainest edit of a board that is past its base', async () => {
    const made = await board();
    const before = await written(made.id);
    const append = appendOf(plainest, { ...made, revision: made.revision + 1 });
    expect((await appendAll(stage.prisma, [append])).get(made.id)).toBe('stale');
    expect(await written(made.id)).toEqual(before);
  });

  const step: Content = {
    updates: [1, 2, 3].map((n) => ({
      bytes: new Uint8Array([n]),
      at: new Date('2026-09-01T10:00:00.123Z'),
      rebased: n === 2 ? new Uint8Array([9]) : null,
    })),
    clients: [2 ** 52],
    authors: { 'spots/H': { name: 'Head', at: new Date('2026-09-01T10:00:00.123Z') } },
    line: { name: 'Sail', concept: 'Flood', formation: 'Doubles' },
  };

  it('R3: gives updates their ids in order, and tells the last', async () => {
    const made = await board();
    const appended = (await appendAll(stage.prisma, [appendOf(step, made)])).get(made.id);
    const rows = await stage.prisma.boardUpdate.findMany({
      where: { boardId: made.id },
      orderBy: { id: 'asc' },
    });
    expect(rows.slice(1).map(({ bytes }) => [...bytes])).toEqual([[1], [2], [3]]);
    expect(rows.slice(1).map(({ rebased }) => rebased && [...rebased])).toEqual([null, [9], null]);
    expect(appended).toEqual({ last: rows.at(-1)?.id, revision: made.revision + 1 });
  });

  it('R100: writes nothing of one board that is past its base', async () => {
    const made = await board();
    const before = await written(made.id);
    const append = appendOf(step, { ...made, revision: made.revision + 1 });
    expect((await appendAll(stage.prisma, [append])).get(made.id)).toBe('stale');
    expect(await written(made.id)).toEqual(before);
  });

  it('R100: of two at once on one board writes one', async () => {
    const made = await board();
    const append = appendOf(step, made);
    const both = await Promise.all([1, 2].map(() => appendAll(stage.prisma, [append])));
    const outcomes = both.map((appended) => appended.get(made.id));
    expect(outcomes.filter((outcome) => outcome === 'stale')).toHaveLength(1);
    const { updates } = (await written(made.id)) as { updates: unknown[] };
    expect(updates).toHaveLength(step.updates.length);
  });

  it('R7: carries none of the others along for a board it locks', async () => {
    const boards = await Promise.all(Array.from({ length: 20 }, () => board()));
    const { text, values } = appendMany(boards.map((made) => appendOf(step, made)));
    const { rows } = await stage.prisma.pool.query<{ 'QUERY PLAN': [{ Plan: Planned }] }>({
      text: `EXPLAIN (ANALYZE, FORMAT JSON) ${text}`,
      values: values ?? [],
    });
    const [sort] = sorts(rows[0]?.['QUERY PLAN'][0].Plan).filter(
      (key) => key['Sort Key'][0] === 'b_1.id',
    );
    // With the whole payload in each of its rows it was the square of their number.
    expect(sort?.['Sort Space Used']).toBeLessThan(100);
  });

  it('says nothing of a board that is gone', async () => {
    const made = await board();
    await stage.prisma.board.delete({ where: { id: made.id } });
    expect((await appendAll(stage.prisma, [appendOf(step, made)])).size).toBe(0);
  });

  it('asks nothing for no board', async () => {
    expect((await appendAll(stage.prisma, [])).size).toBe(0);
  });
});

it('R7 an append is written though whatever else a server does holds every other connection', async () => {
  const here = await board();
  const { pool } = stage.prisma;
  const taken = await Promise.all(Array.from({ length: pool.options.max }, () => pool.connect()));
  try {
    const appended = await appendAll(stage.prisma, [appendOf(plainest, here)]);
    expect(appended.get(here.id)).toMatchObject({ revision: here.revision + 1 });
  } finally {
    for (const client of taken) client.release();
  }
});
