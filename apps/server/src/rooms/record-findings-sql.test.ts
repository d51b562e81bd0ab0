import type { LiveFinding } from '@stemline/protocol/message';
import { asPlayerId } from '@stemline/testkit/plays';
import { beforeAll, describe, expect, it } from 'vitest';
import { startApp, type TestApp } from '../testing/app.ts';
import { recordFindings } from './record-findings-sql.ts';

let stage: TestApp;
let board: string;

beforeAll(async () => {
  stage = await startApp();
  const head = await stage.person('Head');
  board = await head.drawsUp(await head.foundsStaff('Alder'), 'Sail');
});

const H = { kind: 'player', player: asPlayerId('H') } as const;

const minute = (n: number): Date => new Date(Date.UTC(2026, 10, 3, 18, n));

const live = (id: string, says = `Nobody answers ${id}.`): LiveFinding => ({
  finding: { id, kind: 'gap', severity: 'warn', says, elements: [H], mend: '', witness: null },
  openedAt: minute(0).toISOString(),
  authors: [{ element: H, what: 'the place of H', name: 'Dana', at: minute(0).toISOString() }],
  waived: null,
});

const record = (findings: readonly LiveFinding[], at: Date): Promise<void> =>
  recordFindings(stage.prisma, board, findings, at);

const stored = async () =>
  (
    await stage.prisma.findingRecord.findMany({
      where: { boardId: board },
      orderBy: [{ findingId: 'asc' }, { closedAt: 'asc' }],
    })
  ).map(({ findingId, says, authors, openedAt, closedAt }) => ({
    findingId,
    says,
    authors,
    openedAt,
    closedAt,
  }));

describe('the stored history of findings', () => {
  it('opens what stands, leaves what stood already, closes what went, opens it anew', async () => {
    await record([live('a'), live('b')], minute(1));
    await record([live('b'), live('c')], minute(2));
    await record([live('a'), live('b')], minute(3));
    const authors = [{ what: 'the place of H', name: 'Dana' }];
    const row = (id: string, closedAt: Date | null) => ({
      findingId: id,
      says: `Nobody answers ${id}.`,
      authors,
      openedAt: minute(0),
      closedAt,
    });
    expect(await stored()).toEqual([
      row('a', minute(2)),
      row('a', null),
      row('b', null),
      row('c', minute(3)),
    ]);
    await record([], minute(4));
    expect((await stored()).filter(({ closedAt }) => closedAt === null)).toEqual([]);
  });

  it('opens once what two servers say at the same time', async () => {
    await Promise.all(Array.from({ length: 8 }, () => record([live('d')], minute(5))));
    expect((await stored()).filter(({ findingId }) => findingId === 'd')).toHaveLength(1);
  });

  it('takes words that PostgreSQL does not', async () => {
    await record([live('e', 'Nobody answers \0 or \ud800.')], minute(6));
    expect((await stored()).find(({ findingId }) => findingId === 'e')?.says).toBe(
      'Nobody answers  or \ufffd.',
    );
  });

  it('has nothing to write for a board that is gone, and keeps its connections whole', async () => {
    await expect(
      recordFindings(stage.prisma, 'no such board', [live('f')], minute(7)),
    ).resolves.toBeUndefined();
    const wrong = { ...live('g'), openedAt: 'never' };
    for (let i = 0; i < 20; i++) await expect(record([wrong], minute(8))).rejects.toThrow();
    await record([live('h')], minute(9));
    expect((await stored()).find(({ closedAt }) => closedAt === null)?.findingId).toBe('h');
  });
});
