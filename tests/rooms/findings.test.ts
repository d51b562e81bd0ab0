import type { LiveFinding } from '@stemline/protocol/message';
import { branchSchema, cardHeadSchema, type Row, rowSchema } from '@stemline/read-rules/card';
import { asPlayerId, handPlay, handPlayers } from '@stemline/testkit/plays';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { roomLimits } from '../../apps/server/src/rooms/limits.ts';
import type { Person } from './support/accounts.ts';
import { type Coach, until } from './support/coach.ts';
import { openStage, type Stage } from './support/stage.ts';

let stage: Stage;
let ada: Person;
let ben: Person;
let board: string;

/** The stored history follows at its own pace. */
const patient = { timeout: roomLimits.findingsRecordedEveryMs + 8_000 };

const H = asPlayerId('H');
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
const branch = (id: string, kind: 'in' | 'out') =>
  branchSchema.parse({
    id,
    name: id.toUpperCase(),
    kind: 'route',
    finish: { kind, angle: 80, run: 6 },
    release: { side: 'free', hesitate: 0 },
    decideBy: 3,
    breakAt: { from: 5, to: 6 },
    eyes: 0.3,
  });
/** Fits while the key stands at least so far inside. */
const row = (id: string, from: number, to: number | null, branchId: string): Row =>
  rowSchema.parse({
    id,
    conditions: [
      {
        kind: 'range',
        fact: 'keyOffset',
        from: { at: from, closed: true },
        to: to === null ? null : { at: to, closed: false },
      },
    ],
    branch: branchId,
    says: '',
  });

beforeAll(async () => {
  stage = await openStage();
  const staff = await stage.staff();
  ada = await stage.person(staff, 'Ada Holm', 'headCoach');
  ben = await stage.person(staff, 'Ben Ruiz', 'coordinator');
});
afterAll(() => stage?.close());
beforeEach(async () => {
  board = await stage.board(
    ada,
    handPlay({
      cards: [{ player: H, head, rows: [], branches: [branch('in', 'in'), branch('out', 'out')] }],
    }),
  );
});

const clashSeenBy = ({ findings }: Coach): LiveFinding | undefined =>
  findings?.find(({ finding }) => finding.kind === 'clash');
const namesOf = (live: LiveFinding | undefined): string[] =>
  [...new Set(live?.authors.map(({ name }) => name))].sort();

async function twoCoaches(): Promise<[Coach, Coach]> {
  const a = stage.coach(board, ada);
  const b = stage.coach(board, ben);
  await until('synced', () => a.synced && b.synced && a.findings && b.findings);
  return [a, b];
}

/** Two rows by two coaches that answer one look differently. */
async function clash(a: Coach, b: Coach): Promise<LiveFinding> {
  expect(a.board.putRow(H, row('wide', 1, null, 'in')).ok).toBe(true);
  await until('seen', () => b.board.snapshot().board.play.cards[0]?.rows.length === 1);
  expect(b.board.putRow(H, row('wider', 2, null, 'out')).ok).toBe(true);
  await until('both see the clash', () => clashSeenBy(a) && clashSeenBy(b));
  return clashSeenBy(a) as LiveFinding;
}

describe('findings', () => {
  it('R60 R61 R62 a clash appears to both, naming both, and closes by itself when one mends it', async () => {
    const [a, b] = await twoCoaches();
    expect(clashSeenBy(a)).toBeUndefined();
    const found = await clash(a, b);
    expect(namesOf(found)).toEqual(['Ada Holm', 'Ben Ruiz']);
    expect(namesOf(clashSeenBy(b))).toEqual(['Ada Holm', 'Ben Ruiz']);
    expect(found.authors.map(({ what, name }) => `${what}: ${name}`)).toEqual(
      expect.arrayContaining(["row 1 of H's card: Ada Holm", "row 2 of H's card: Ben Ruiz"]),
    );
    await expect
      .poll(
        () =>
          stage.prisma.findingRecord.findFirst({
            where: { boardId: board, findingId: found.finding.id },
          }),
        patient,
      )
      .toMatchObject({ kind: 'clash', closedAt: null });
    b.board.putRow(H, row('wide', 1, 2, 'in'));
    await until('gone for both', () => a.findings && !clashSeenBy(a) && !clashSeenBy(b));
    await expect
      .poll(
        async () =>
          (
            await stage.prisma.findingRecord.findMany({ where: { boardId: board, kind: 'clash' } })
          ).map(({ closedAt }) => closedAt !== null),
        patient,
      )
      .toEqual([true]);
  });

  it("R61 what nobody has set since the board was made is its maker's; then whose who set it", async () => {
    const players = handPlayers().map((player) =>
      player.id === 'LT' ? { ...player, at: [-3.2, -5] as const } : player,
    );
    board = await stage.board(ada, handPlay({ players }));
    const b = stage.coach(board, ben);
    const formation = () => b.findings?.find(({ finding }) => finding.kind === 'illegalFormation');
    expect(namesOf(await until('an illegal formation', formation))).toEqual(['Ada Holm']);
    await until('synced', () => b.synced);
    expect(b.board.movePlayer(asPlayerId('LT'), [-3.2, -6]).ok).toBe(true);
    await until('his now', () => {
      const of = formation()?.authors.filter(
        ({ element }) => 'player' in element && element.player === 'LT',
      );
      return of?.length === 1 && of[0]?.name === 'Ben Ruiz';
    });
  });

  it('R62 a finding keeps the time it opened over an unload, and who comes later is told at once', async () => {
    const [a, b] = await twoCoaches();
    const found = await clash(a, b);
    await expect
      .poll(
        () => stage.prisma.findingRecord.count({ where: { boardId: board, kind: 'clash' } }),
        patient,
      )
      .toBe(1);
    const other = await openStage({ prisma: stage.prisma });
    const late = other.coach(board, ada);
    const told = await until('told', () => clashSeenBy(late));
    expect(told.openedAt).toBe(found.openedAt);
    expect(namesOf(told)).toEqual(['Ada Holm', 'Ben Ruiz']);
    await other.close();
    expect(
      await stage.prisma.findingRecord.count({ where: { boardId: board, kind: 'clash' } }),
    ).toBe(1);
  });

  it('R63 a waiver shows on the finding, and freeze has it', async () => {
    const [a, b] = await twoCoaches();
    const { finding } = await clash(a, b);
    await stage.prisma.waiver.create({
      data: {
        boardId: board,
        findingId: finding.id,
        reason: 'We teach it',
        memberId: ada.memberId,
        name: 'Ada Holm',
      },
    });
    stage.rooms.publish(board, { kind: 'changes' });
    const waived = await until('waived', () => clashSeenBy(b)?.waived);
    expect(waived).toMatchObject({ by: 'Ada Holm', reason: 'We teach it' });
    const { findings } = await stage.rooms.freeze(board);
    expect(findings.find((live) => live.finding.id === finding.id)?.waived?.by).toBe('Ada Holm');
  });

  it('R60 the looks of the staff count, as they are now', async () => {
    const [a, b] = await twoCoaches();
    await clash(a, b);
    const before = a.findings;
    await stage.prisma.look.deleteMany({ where: { staffId: ada.staffId } });
    stage.rooms.publish(board, { kind: 'looks' });
    await until(
      'told again',
      () => a.findings !== before && a.events.some(({ kind }) => kind === 'looks'),
    );
    // Without a shelf the witness is built by the prover; the clash is there all the same.
    expect(clashSeenBy(a)).toBeDefined();
  });
});
