import { maxStructsOfUpdate } from '@stemline/board/limits';
import { asPlayerId } from '@stemline/testkit/plays';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import type { OpenBus } from '../../apps/server/src/bus/bus.ts';
import { redisBus } from '../../apps/server/src/bus/redis-bus.ts';
import { type OwnRedis, startRedis } from '../../apps/server/src/cluster/redis.ts';
import { roomLimits } from '../../apps/server/src/rooms/limits.ts';
import { replay } from './soak/replay.ts';
import type { Person } from './support/accounts.ts';
import { type Coach, until } from './support/coach.ts';
import { answer } from './support/raw.ts';
import { openStage, type Stage } from './support/stage.ts';

const H = asPlayerId('H');
let redis: OwnRedis;
let one: Stage;
let other: Stage;
let ada: Person;
let ben: Person;
let tom: Person;
/** Two more over the same store, to whom no message about a board comes through: only beats do. */
let deaf: readonly [Stage, Stage];

const over =
  (url: string): OpenBus =>
  (listener) =>
    redisBus(url, listener, () => undefined);

/** Loses messages about boards while `isLost` says so. */
const lossyOver =
  (url: string, isLost: () => boolean): OpenBus =>
  (listener) => {
    const bus = over(url)(listener);
    return {
      ...bus,
      publish(channel, payload) {
        if (channel === 'stemline:all' || !isLost()) bus.publish(channel, payload);
      },
    };
  };

/** Two more, whose messages about boards are lost while this says so. */
let blinking: readonly [Stage, Stage];
let isLost = false;

beforeAll(async () => {
  redis = await startRedis();
  const bus = over(redis.url);
  const quick = { serverBeatMs: 100, serverSilenceMs: 1_000, compareAwayMs: 200 };
  // Never compared while Redis carries: what crosses has crossed by it.
  const limits = { ...quick, compareMs: 3_600_000 };
  one = await openStage({ bus, limits });
  const { prisma } = one;
  other = await openStage({ bus, limits, prisma });
  const unheard = {
    bus: lossyOver(redis.url, () => true),
    limits: { ...quick, compareMs: 1_000 },
    prisma,
  };
  deaf = [await openStage(unheard), await openStage(unheard)];
  const lossy = { ...unheard, bus: lossyOver(redis.url, () => isLost) };
  blinking = [await openStage(lossy), await openStage(lossy)];
  const staff = await one.staff();
  ada = await one.person(staff, 'Ada Holm', 'headCoach');
  ben = await one.person(staff, 'Ben Ruiz', 'coordinator');
  tom = await one.person(staff, 'Tom Bay', 'coordinator');
  await until('all hear', () =>
    [one, other, ...deaf, ...blinking].every(({ servers }) => servers?.isUp),
  );
}, 120_000);
afterAll(async () => {
  for (const stage of [...(deaf ?? []), ...(blinking ?? []), other, one]) await stage?.close();
  await redis?.stop();
}, 60_000);
/** One coach at each server, on a board of their own. */
async function pair([left, right]: readonly [Stage, Stage] = [one, other]): Promise<{
  board: string;
  a: Coach;
  b: Coach;
}> {
  const board = await left.board(ada);
  const a = left.coach(board, ada);
  const b = right.coach(board, ben);
  await until('both in', () => a.synced && b.synced && a.saved.length > 0 && b.saved.length > 0);
  return { board, a, b };
}

const nameOf = (coach: Coach): string => coach.board.snapshot().board.play.name;
const spotOf = (coach: Coach): number | undefined =>
  coach.board.snapshot().board.play.players.find(({ id }) => id === 'H')?.at[0];
const bytesOf = (coach: Coach): Buffer => Buffer.from(Y.encodeStateAsUpdate(coach.ydoc));

/** Everybody has and is told saved what the log says. */
async function settled(board: string, coaches: readonly Coach[]): Promise<void> {
  await until('saved', () => coaches.every((coach) => coach.synced && coach.isSaved), 20_000);
  await until(
    'equal',
    () => coaches.every((coach) => bytesOf(coach).equals(bytesOf(coaches[0] as Coach))),
    20_000,
  );
  const stored = await replay(one.prisma, board);
  expect(Buffer.from(Y.encodeStateAsUpdate(stored))).toEqual(bytesOf(coaches[0] as Coach));
  for (const { closes, refused } of coaches) expect([closes, refused]).toEqual([[], []]);
}

describe('two servers over Redis', () => {
  it('R103 what is edited at one is seen at the other, both ways', async () => {
    const { board, a, b } = await pair();
    a.board.setName('Lantern');
    await until('seen at the other', () => nameOf(b) === 'Lantern');
    b.board.movePlayer(H, [-9, -1.2]);
    await until('seen at the one', () => spotOf(a) === -9);
    await settled(board, [a, b]);
  });

  it('R100 R101 R102 both write the same values at once: they converge on what is stored', async () => {
    const { board, a, b } = await pair();
    const c = one.coach(board, tom);
    await until('in', () => c.synced);
    for (let i = 1; i <= 150; i++) {
      a.board.movePlayer(H, [-8 - i / 100, -1.2]);
      b.board.movePlayer(H, [-6 - i / 100, -1.4]);
      c.board.setConcept(`c ${i}`);
      b.board.setConcept(`b ${i}`);
      await new Promise((resolve) => setTimeout(resolve, 2));
    }
    await settled(board, [a, b, c]);
    const { revision } = await one.prisma.board.findUniqueOrThrow({ where: { id: board } });
    expect(revision).toBeGreaterThan(10);
  }, 60_000);

  it('R103 messages that reach nobody change nothing but the time: the store is compared', async () => {
    const { board, a, b } = await pair(deaf);
    a.board.setName('Unheard');
    // He has accepted without knowing of it; its commit finds out.
    b.board.movePlayer(H, [-9.5, -1.2]);
    await settled(board, [a, b]);
    expect(nameOf(b)).toBe('Unheard');
    expect(spotOf(a)).toBe(-9.5);
    a.board.setName('Compared');
    await until('compared', () => nameOf(b) === 'Compared', 15_000);
  }, 40_000);

  it('R101 a coach who changes servers is not refused for what the new one has not heard yet', async () => {
    const { board, a, b } = await pair(deaf);
    a.board.setName('Before');
    const c = deaf[0].coach(board, tom);
    await until('c has it', () => c.synced && nameOf(c) === 'Before');
    c.board.movePlayer(H, [-9.9, -1.2]);
    await until('saved', () => c.isSaved);
    // With what Ada wrote, which the other server lacks, and an edit on top of it.
    c.provider.disconnect();
    c.board.movePlayer(H, [-10.5, -1.2]);
    const moved = deaf[1].coach(board, tom, c.ydoc);
    await settled(board, [a, b, moved]);
    expect(spotOf(b)).toBe(-10.5);
    expect(moved.closed).toBeNull();
  }, 40_000);

  it('R76 R101 what takes long to judge is refused here too, once the store has been asked', async () => {
    const board = await one.board(ada);
    const raw = one.raw(board, { cookie: ben.cookie });
    await until('in', () => raw.frames.length > 0);
    const ydoc = new Y.Doc();
    ydoc.transact(() => {
      for (let i = 0; i < maxStructsOfUpdate / 2; i++) ydoc.getMap('spots').set(`p${i}`, [0, 0]);
    });
    raw.send(answer(Y.encodeStateAsUpdate(ydoc)));
    expect((await raw.closed).code).toBe(4413);
  });

  it('R105 presence crosses, for who comes later too, and goes with its connection', async () => {
    const { board, a, b } = await pair();
    a.provider.awareness.setLocalStateField('cursor', [3, 4]);
    const shown = (coach: Coach, who: Coach) =>
      coach.provider.awareness.getStates().get(who.ydoc.clientID) as
        | { cursor?: unknown; member?: { name: string } }
        | undefined;
    await until('seen', () => Array.isArray(shown(b, a)?.cursor));
    expect(shown(b, a)).toMatchObject({ cursor: [3, 4], member: { name: 'Ada Holm' } });
    const late = other.coach(board, tom);
    await until('told who is here', () => shown(late, a)?.member?.name === 'Ada Holm');
    late.provider.awareness.setLocalStateField('cursor', [1, 1]);
    await until('seen at the one', () => shown(a, late)?.member?.name === 'Tom Bay');
    // He changes servers under his old id, and is seen at once where he was.
    a.provider.disconnect();
    const back = other.coach(board, ada, a.ydoc);
    back.provider.awareness.setLocalStateField('cursor', [5, 6]);
    await until('seen again', () => {
      const cursor = shown(b, back)?.cursor as number[] | undefined;
      return cursor?.[0] === 5;
    });
    back.leave();
    await until('gone', () => !shown(b, back));
  });

  it('R105 what was lost of presence is told with the next comparison', async () => {
    const { board, a, b } = await pair(blinking);
    const cursorOf = (who: Coach) =>
      a.provider.awareness.getStates().get(who.ydoc.clientID)?.cursor as number[] | undefined;
    const leaver = blinking[1].coach(board, tom);
    for (const coach of [b, leaver]) coach.provider.awareness.setLocalStateField('cursor', [3, 4]);
    await until('seen', () => cursorOf(b) && cursorOf(leaver));
    isLost = true;
    try {
      leaver.leave();
      b.provider.awareness.setLocalStateField('cursor', [5, 6]);
      const comer = blinking[1].coach(board, tom);
      comer.provider.awareness.setLocalStateField('cursor', [7, 8]);
      await until('seen there', () => {
        const states = b.provider.awareness.getStates();
        return states.has(comer.ydoc.clientID) && !states.has(leaver.ydoc.clientID);
      });
      // It was lost for good: nothing more is said of them but by the comparison.
      expect([cursorOf(leaver), cursorOf(b), cursorOf(comer)]).toEqual([[3, 4], [3, 4], undefined]);
      isLost = false;
      await until('put right', () => cursorOf(b)?.[0] === 5 && cursorOf(comer)?.[0] === 7);
      await until('gone', () => cursorOf(leaver) === undefined);
    } finally {
      isLost = false;
    }
  });

  it('R106 findings are checked by one and told at both, and stand once in the history', async () => {
    const { board, a, b } = await pair();
    await until('told', () => a.findings && b.findings, 20_000);
    a.board.movePlayer(H, [-9, 3]);
    await until('found at both', () =>
      [a, b].every(({ findings }) =>
        findings?.some(({ finding }) => finding.kind === 'illegalFormation'),
      ),
    );
    expect(b.findings).toEqual(a.findings);
    b.board.movePlayer(H, [-9, -1.2]);
    const open = () =>
      one.prisma.findingRecord.findMany({
        where: { boardId: board, kind: 'illegalFormation' },
      });
    await until('closed at both', () =>
      [a, b].every(
        ({ findings }) =>
          findings?.every(({ finding }) => finding.kind !== 'illegalFormation') ?? false,
      ),
    );
    // The stored history follows at its own pace.
    await expect
      .poll(async () => (await open()).every(({ closedAt }) => closedAt), {
        timeout: roomLimits.findingsRecordedEveryMs + 8_000,
      })
      .toBe(true);
    const rows = await open();
    expect(new Set(rows.map(({ findingId }) => findingId)).size).toBe(rows.length);
  }, 40_000);

  it('R107 an event of one is told at the other', async () => {
    const { board, a, b } = await pair();
    one.rooms.publish(board, { kind: 'comments' });
    await until('told', () => b.events.some(({ kind }) => kind === 'comments'));
    expect(a.events.filter(({ kind }) => kind === 'comments')).toHaveLength(1);
    // A server that does not hold the board tells those that do.
    const third = await openStage({ bus: over(redis.url), prisma: one.prisma });
    await until('hears', () => third.servers?.isUp);
    third.rooms.publish(board, { kind: 'changes' });
    await until('told at both', () =>
      [a, b].every(({ events }) => events.some(({ kind }) => kind === 'changes')),
    );
    await third.close();
  });

  it('R108 whoever loses his place on the staff at one server is out at the other', async () => {
    const staff = await one.staff();
    const head = await one.person(staff, 'Dana West', 'headCoach');
    const guest = await one.person(staff, 'Uma Lind', 'coordinator');
    const board = await one.board(head);
    const there = other.coach(board, guest);
    await until('in', () => there.synced && there.mayEdit);
    await one.prisma.member.update({ where: { id: guest.memberId }, data: { role: 'assistant' } });
    await one.rooms.accessChanged({ memberId: guest.memberId });
    await until('told', () => there.mayEdit === false);
    await one.prisma.member.update({
      where: { id: guest.memberId },
      data: { removedAt: new Date() },
    });
    await one.rooms.accessChanged({ memberId: guest.memberId });
    await until('out', () => there.closed?.code === 4406);
  });

  it('R108 a session that the store says is over ends its connections, though nobody announced it', async () => {
    const staff = await one.staff();
    const guest = await one.person(staff, 'Uma Lind', 'coordinator');
    const [, there] = deaf;
    const coach = there.coach(await one.board(guest), guest);
    await until('in', () => coach.synced);
    await one.prisma.session.updateMany({
      where: { userId: guest.userId },
      data: { expiresAt: new Date() },
    });
    await until('out', () => coach.closed?.code === 4401);
  });

  it('R90 one ends in good order while its boards are edited at the other all the time', async () => {
    const leaving = await openStage({
      bus: over(redis.url),
      limits: { serverBeatMs: 100, findingsEveryMs: 50 },
      prisma: one.prisma,
    });
    await until('hears', () => leaving.servers?.isUp);
    const pairs = await Promise.all(Array.from({ length: 6 }, () => pair([leaving, other])));
    let moves = 0;
    const editing = setInterval(() => {
      moves += 1;
      for (const { b } of pairs) b.board.movePlayer(H, [-9 - moves / 1000, -1.2]);
    }, 10);
    for (const { a } of pairs) a.board.setName('Last word');
    await until('taken', () => pairs.every(({ b }) => nameOf(b) === 'Last word'));
    await leaving.rooms.close();
    clearInterval(editing);
    for (const { b } of pairs) expect(nameOf(b)).toBe('Last word');
    for (const { a, b } of pairs) for (const coach of [a, b]) coach.leave();
    await leaving.close();
  }, 60_000);

  it('R109 a freeze at one has what the other made durable, heard or not', async () => {
    const { board, a } = await pair(deaf);
    a.board.setName('Frozen elsewhere');
    await until('saved', () => a.isSaved);
    expect((await deaf[1].rooms.freeze(board)).content.play.name).toBe('Frozen elsewhere');
  });
});

describe('Redis away', () => {
  const edit = (coach: Coach, of: string): { stop(): Promise<number> } => {
    let stopped = false;
    const done = (async () => {
      let written = 0;
      for (; !stopped && written < 3_000; written++) {
        coach.board.setConcept(`${of} ${written}`);
        coach.board.movePlayer(H, [-8 - written / 1_000, -1.2]);
        await new Promise((resolve) => setTimeout(resolve, 4));
      }
      return written;
    })();
    return {
      stop: () => {
        stopped = true;
        return done;
      },
    };
  };

  it.each([
    ['killed', () => redis.kill(), () => redis.start()],
    ['frozen', async () => redis.freeze(), async () => redis.thaw()],
  ] as const)(
    'R103 R104 %s under load and back: each goes on and says so, nothing is lost, both converge',
    async (_how, lose, regain) => {
      const { board, a, b } = await pair();
      const pens = [edit(a, 'a'), edit(b, 'b')];
      await until('under way', () => a.saved.length > 5 && b.saved.length > 5);
      await lose();
      await until('says so', () => !one.servers?.isUp && !other.servers?.isUp);
      await until('hears nobody', () => one.servers?.status().others === 0);
      expect(one.servers?.status().redis).toBe('away');
      const hears = (coach: Coach): boolean | undefined =>
        coach.events.flatMap((event) => (event.kind === 'servers' ? event.away : [])).at(-1);
      await until('both are told', () => hears(a) === true && hears(b) === true);
      const late = other.coach(board, tom);
      await until('told on coming in', () => hears(late) === true);
      const [savedA, savedB] = [a.saved.length, b.saved.length];
      await until(
        'both go on',
        () => a.saved.length > savedA + 10 && b.saved.length > savedB + 10,
        20_000,
      );
      await Promise.all(pens.map((pen) => pen.stop()));
      a.board.setName('While it was away');
      await until('crosses by the store', () => nameOf(b) === 'While it was away');
      // Revoked at one: out at the other, though nobody could tell it.
      const guest = await one.person(ada.staffId, 'Ida Wren', 'coordinator');
      const there = other.coach(board, guest);
      await until('in', () => there.synced);
      await one.prisma.member.update({
        where: { id: guest.memberId },
        data: { removedAt: new Date() },
      });
      await one.rooms.accessChanged({ memberId: guest.memberId });
      await until('out', () => there.closed?.code === 4406);
      const heard = [a.events.length, b.events.length];
      await regain();
      await until('heard again', () => one.servers?.isUp && other.servers?.isUp, 20_000);
      await until('told to look again', () =>
        [a, b].every(({ events }, i) =>
          events.slice(heard[i]).some(({ kind }) => kind === 'comments'),
        ),
      );
      await until('taken back', () => [a, b, late].every((coach) => hears(coach) === false));
      const later = one.coach(board, tom);
      await until('in', () => later.synced && later.findings);
      expect(hears(later)).toBeUndefined();
      b.board.setName('Back');
      await until('crosses', () => nameOf(a) === 'Back');
      b.provider.awareness.setLocalStateField('cursor', [7, 7]);
      await until('presence crosses again', () =>
        a.provider.awareness.getStates().has(b.ydoc.clientID),
      );
      await settled(board, [a, b, late, later]);
    },
    90_000,
  );
});
