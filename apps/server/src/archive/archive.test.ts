import { boardPlaySchema } from '@stemline/board/board-play';
import { maxArchiveBytes, staffArchiveSchema } from '@stemline/protocol/api/archive';
import { boardLineSchema } from '@stemline/protocol/api/boards';
import { commentSchema, threadSchema } from '@stemline/protocol/api/comments';
import { versionSchema } from '@stemline/protocol/api/signoff';
import { auditEventSchema, memberSchema, membershipSchema } from '@stemline/protocol/api/staffs';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { z } from 'zod';
import { toJson } from '../database.ts';
import { loadDemo } from '../demo/load.ts';
import { people } from '../demo/people.ts';
import { maxBodyBytes } from '../http/json-bodies.ts';
import { startApp, type TestApp } from '../testing/app.ts';
import type { Person } from '../testing/person.ts';
import { exportStaff } from './export.ts';

type Archive = z.infer<typeof staffArchiveSchema>;

let stage: TestApp;
let importer: Person;
let archive: Archive;

beforeAll(async () => {
  stage = await startApp();
  await loadDemo(stage.deps);
  const staff = await stage.prisma.staff.findFirstOrThrow({
    orderBy: { boards: { _count: 'desc' } },
  });
  archive = await exportStaff(stage.prisma, staff.id, new Date('2026-09-15T21:10:00.000Z'));
  importer = await stage.person('Ines Okafor');
});

/** What it holds but for when it was written and what an import leaves out. */
const content = ({ exportedAt: _, audit: __, ...rest }: Archive) => rest;
const importAs = (person: Person, body: unknown) =>
  person.gets(membershipSchema, 'POST', '/api/staffs/import', body);

describe('the archive of a staff', () => {
  it('leaves out what was deleted', async () => {
    const head = await stage.person('Ada Brandt');
    const staff = await head.foundsStaff('Quarry');
    const board = await head.drawsUp(staff, 'Sail');
    const says = (text: string) =>
      head.gets(threadSchema, 'POST', `/api/boards/${board}/threads`, { anchor: '', text });
    const [gone, half] = [await says('Nothing'), await says('Half')];
    await head.gets(commentSchema, 'POST', `/api/threads/${half.id}/comments`, {
      text: 'The other half',
    });
    for (const { comments } of [gone, half])
      await head.does('DELETE', `/api/comments/${comments[0]?.id}`);
    const { boards } = await exportStaff(stage.prisma, staff, new Date());
    expect(boards[0]?.threads.map(({ comments }) => comments.map(({ text }) => text))).toEqual([
      ['The other half'],
    ]);
  });

  it('holds its shelf, its book with sign-offs and comments, and nobody’s address', () => {
    expect(staffArchiveSchema.parse(archive)).toEqual(archive);
    expect(archive.boards.length).toBeGreaterThan(2);
    expect(archive.looks.length).toBeGreaterThan(10);
    expect(archive.boards.some(({ changes }) => changes.some(({ version }) => version))).toBe(true);
    expect(archive.audit.length).toBeGreaterThan(2);
    const text = JSON.stringify(archive);
    for (const { email } of Object.values(people)) expect(text).not.toContain(email);
    expect(text).toContain(people.dana.name);
  });

  it('becomes a staff of its own with the same content and new ids, under the names that were', async () => {
    const { staffId, role } = await importAs(importer, archive);
    expect(role).toBe('headCoach');
    const again = await importer.gets(staffArchiveSchema, 'GET', `/api/staffs/${staffId}/export`);
    expect(content(again)).toEqual(content(archive));
    const members = await importer.gets(
      z.array(memberSchema),
      'GET',
      `/api/staffs/${staffId}/members`,
    );
    expect(members.map(({ name }) => name)).toEqual(['Ines Okafor']);
    const [made] = await importer.gets(
      z.array(auditEventSchema),
      'GET',
      `/api/staffs/${staffId}/audit`,
    );
    expect(made?.what).toContain('exported');
    const ids = async (staff: { not: string } | string) =>
      (await stage.prisma.board.findMany({ where: { staffId: staff } })).map(({ id }) => id);
    const others = new Set(await ids({ not: staffId }));
    expect((await ids(staffId)).filter((id) => others.has(id))).toEqual([]);
  });

  it('is a book that can be worked on', async () => {
    const { staffId } = await importAs(importer, archive);
    const book = await importer.gets(
      z.array(boardLineSchema),
      'GET',
      `/api/staffs/${staffId}/boards`,
    );
    const signed = book.find(({ signedVersion }) => signedVersion !== null);
    if (!signed) throw new Error('the demo has a signed-off play');
    const version = await importer.gets(versionSchema, 'GET', `/api/boards/${signed.id}/signed`);
    expect(archive.boards.flatMap(({ changes }) => changes.map(({ hash }) => hash))).toContain(
      version.hash,
    );
    await importer.gets(threadSchema, 'POST', `/api/boards/${signed.id}/threads`, {
      anchor: '',
      text: 'Ours now',
    });
    const { content: board } = await stage.rooms.freeze(signed.id);
    expect(archive.boards.map(({ content }) => content)).toContainEqual(board);
    // Whose board it is stays his name, though he is nobody here.
    const stored = await stage.prisma.board.findUniqueOrThrow({ where: { id: signed.id } });
    expect(Object.values(people).map(({ name }) => name)).toContain(stored.createdBy);
  });

  it('is told to a browser as a file', async () => {
    const { staffId } = await importAs(importer, archive);
    const answer = await importer.ask('GET', `/api/staffs/${staffId}/export`);
    expect(answer.headers.get('content-disposition')).toMatch(
      /^attachment; filename="[a-z0-9-]+\.stemline\.json"$/,
    );
  });
});

describe('an export', () => {
  it('is made once at a time for one person', async () => {
    const { staffId } = await importAs(importer, archive);
    const asks = () => importer.ask('GET', `/api/staffs/${staffId}/export`);
    const asked = await stage.prisma.$transaction(
      async (transaction) => {
        // So the first comes to no end before the others were answered.
        await transaction.$executeRaw`LOCK TABLE "AuditEvent" IN ACCESS EXCLUSIVE MODE`;
        const under = [asks(), asks(), asks()];
        const refused: number[] = [];
        for (const one of under) void one.then(({ status }) => refused.push(status));
        await vi.waitFor(() => expect(refused).toEqual([429, 429]), 20_000);
        return { under };
      },
      { timeout: 30_000 },
    );
    const statuses = (await Promise.all(asked.under)).map(({ status }) => status);
    expect(statuses.sort()).toEqual([200, 429, 429]);
    expect((await importer.ask('GET', `/api/staffs/${staffId}/export`)).status).toBe(200);
  });

  it('lets the boards go on between one play and the next', async () => {
    const { staffId } = await importAs(importer, archive);
    const { id: _, ...change } = await stage.prisma.installChange.findFirstOrThrow({
      where: { board: { staffId } },
    });
    const many = 20;
    await stage.prisma.installChange.createMany({
      data: Array.from({ length: many }, () => ({
        ...change,
        state: 'withdrawn' as const,
        play: toJson(change.play),
        words: toJson(change.words),
        findings: toJson(change.findings),
      })),
    });
    let turn = 0;
    const count = () => {
      turn += 1;
      next = setImmediate(count);
    };
    let next = setImmediate(count);
    const read = boardPlaySchema.parse.bind(boardPlaySchema);
    const turns: number[] = [];
    const reading = vi.spyOn(boardPlaySchema, 'parse').mockImplementation((play) => {
      turns.push(turn);
      return read(play);
    });
    await exportStaff(stage.prisma, staffId, new Date());
    clearImmediate(next);
    reading.mockRestore();
    expect(turns.length).toBeGreaterThan(many);
    expect(new Set(turns).size).toBe(turns.length);
  });
});

describe('an import refuses', () => {
  const refuses = async (change: (copy: Archive) => unknown, path: RegExp): Promise<void> => {
    const staffs = await stage.prisma.staff.count();
    const copy = structuredClone(archive);
    const body = change(copy) ?? copy;
    const problem = await importer.isRefused(422, 'POST', '/api/staffs/import', body, 'invalid');
    expect(problem.where?.map(({ path }) => path).join(' ')).toMatch(path);
    expect(await stage.prisma.staff.count()).toBe(staffs);
  };
  const signedIn = (copy: Archive) => {
    for (const [n, { changes }] of copy.boards.entries())
      for (const [m, change] of changes.entries()) if (change.version) return { n, m, change };
    throw new Error('the demo has a signed-off play');
  };

  it('what is no archive, or one of another version', async () => {
    await refuses(() => ({ hello: 'there' }), /body/);
    await refuses((copy) => ({ ...copy, version: 2 }), /body\.version/);
    await refuses((copy) => ({ ...copy, users: [] }), /body/);
  });

  it('a signed version that was changed after it was signed', async () => {
    await refuses((copy) => {
      signedIn(copy).change.content.play.name = 'Forged';
    }, /body\.boards\.\d+\.changes\.\d+/);
  });

  it('two versions of one number, and a sign-off without a version', async () => {
    await refuses((copy) => {
      const { n, change } = signedIn(copy);
      copy.boards[n]?.changes.push(change);
    }, /body\.boards\.\d+\.changes/);
    await refuses((copy) => {
      signedIn(copy).change.version = null;
    }, /body\.boards\.\d+\.changes/);
  });

  it('two changes of one play that wait for a decision', async () => {
    await refuses((copy) => {
      const { n, change } = signedIn(copy);
      const waiting = { ...change, state: 'sentUp' as const, version: null };
      copy.boards[n]?.changes.push(waiting, waiting);
    }, /body\.boards\.\d+\.changes/);
  });

  it('a play that no board can hold', async () => {
    await refuses((copy) => {
      const players = copy.boards[0]?.content.play.players;
      const [first] = players ?? [];
      if (players && first) (players as unknown[])[1] = first;
    }, /body\.boards\.0\.content/);
  });

  it('whoever is not signed in, before anything is read, and what is too large', async () => {
    const large = { padding: 'x'.repeat(maxBodyBytes) };
    await stage.stranger().isRefused(401, 'POST', '/api/staffs/import', large, 'notSignedIn');
    await importer.isRefused(422, 'POST', '/api/staffs/import', large, 'invalid');
    const larger = { padding: 'x'.repeat(maxArchiveBytes) };
    await importer.isRefused(413, 'POST', '/api/staffs/import', larger, 'tooLarge');
  });

  it('what names more faults than anybody mends at once: it tells the first of them', async () => {
    const problem = await importer.isRefused(
      422,
      'POST',
      '/api/staffs/import',
      { ...archive, boards: Array.from({ length: 900 }, () => ({})) },
      'invalid',
    );
    expect(problem.where).toHaveLength(50);
    expect(problem.detail).toMatch(/; \d+ more$/);
  });

  it('what is no JSON, and what holds text that cannot be stored', async () => {
    const headers = { 'content-type': 'application/json' };
    const sent = await importer.ask('POST', '/api/staffs/import', undefined, headers);
    expect(sent.status).toBe(400);
    await refuses((copy) => {
      copy.staff.name = 'half a pair: \ud83c';
    }, /body\.staff\.name/);
  });

  it('times and numbers that no database knows', async () => {
    await refuses((copy) => {
      const [board] = copy.boards;
      if (board) board.createdAt = '0000-01-01T00:00:00Z';
    }, /body\.boards\.0\.createdAt/);
    await refuses((copy) => {
      const { version } = signedIn(copy).change;
      if (version) version.number = 3_000_000_000;
    }, /body\.boards\.\d+\.changes\.\d+\.version\.number/);
  });

  /** An archive that comes without its length. */
  const sends = (body: ReadableStream<Uint8Array>, person = importer) => {
    const headers = {
      host: 'stemline.test',
      cookie: person.cookie,
      'content-type': 'application/json',
    };
    const wish = { method: 'POST', headers, body, duplex: 'half' } as const;
    return stage.app.fetch(new Request('http://stemline.test/api/staffs/import', wish), {});
  };
  const mebibyte = new Uint8Array(1_048_576).fill(32);

  it('a second one of the same person, before anything of it is read', async () => {
    let isRead = () => {};
    const reading = new Promise<void>((resolve) => {
      isRead = resolve;
    });
    let end = () => {};
    const first = sends(
      new ReadableStream(
        {
          pull: (sending) => {
            isRead();
            return new Promise<void>((resolve) => {
              end = () => {
                sending.close();
                resolve();
              };
            });
          },
        },
        { highWaterMark: 0 },
      ),
    );
    await reading;
    let read = 0;
    const second = await sends(
      new ReadableStream(
        {
          pull: (sending) => {
            read += 1;
            sending.enqueue(mebibyte);
            if (read === 8) sending.close();
          },
        },
        { highWaterMark: 0 },
      ),
    );
    expect([second.status, read]).toEqual([429, 0]);
    end();
    expect((await first).status).toBe(400);
  });

  it('what is too large and does not say so, without reading on', async () => {
    let read = 0;
    const answer = await sends(
      new ReadableStream(
        {
          pull: (sending) => {
            read += 1;
            sending.enqueue(mebibyte);
          },
        },
        { highWaterMark: 0 },
      ),
    );
    expect(answer.status).toBe(413);
    expect(read).toBe(maxArchiveBytes / mebibyte.byteLength + 1);
  });

  it('none because others send theirs slowly', async () => {
    const slow = await Promise.all(['Slow', 'Slower', 'Slowest'].map((name) => stage.person(name)));
    const ends: (() => void)[] = [];
    const answers = slow.map((person) => {
      const pull = (sending: ReadableStreamDefaultController) =>
        new Promise<void>((done) => {
          ends.push(() => {
            sending.close();
            done();
          });
        });
      return sends(new ReadableStream({ pull }, { highWaterMark: 0 }), person);
    });
    await expect.poll(() => ends.length).toBe(slow.length);
    await importAs(importer, archive);
    for (const end of ends) end();
    const statuses = (await Promise.all(answers)).map(({ status }) => status);
    expect(statuses).toEqual([400, 400, 400]);
  });

  it('a second one of the same person at the same time', async () => {
    const answers = await Promise.all(
      [0, 1].map(() => importer.ask('POST', '/api/staffs/import', archive)),
    );
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 429]);
  });
});
