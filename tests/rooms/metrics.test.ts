import { newDocument } from '@stemline/board/schema';
import { Registry } from 'prom-client';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { until } from './support/coach.ts';
import { change } from './support/raw.ts';
import { openStage, type Stage } from './support/stage.ts';

/** What an operator reads about the rooms. */
describe('metrics of the rooms', () => {
  const registry = new Registry();
  let stage: Stage;
  beforeAll(async () => {
    stage = await openStage({ registry, limits: { idleUnloadMs: 1 } });
  });
  afterAll(() => stage.close());

  /** The sum of all series of this name whose labels hold `label`. */
  async function read(name: string, label = ''): Promise<number> {
    const lines = (await registry.metrics()).split('\n');
    const own = lines.filter((line) => new RegExp(`^${name}[{ ]`).test(line));
    return own
      .filter((line) => line.includes(label))
      .reduce((sum, line) => sum + Number(line.split(' ').at(-1)), 0);
  }

  it('count rooms, sockets, edits, deliveries, save lag and checks', async () => {
    const staff = await stage.staff();
    const head = await stage.person(staff, 'Ada Holm', 'headCoach');
    const board = await stage.board(head);
    const [ada, ben] = [stage.coach(board, head), stage.coach(board, head)];
    await until('both are in', () => ada.synced && ben.synced);
    expect(await read('stemline_rooms_open')).toBe(1);
    expect(await read('stemline_room_sockets')).toBe(2);
    const deliveredBefore = await read('stemline_room_messages_delivered_total');
    for (let i = 0; i < 5; i++) {
      ada.board.setConcept(`Concept ${i}`);
      await until('saved', () => ada.isSaved);
    }
    await until('seen', () => ben.board.snapshot().board.play.concept === 'Concept 4');
    expect(await read('stemline_edits_accepted_total')).toBe(5);
    // A sync that brought nothing new may wait for the same commit.
    const lags = await read('stemline_edit_save_lag_seconds_count');
    expect(lags).toBeGreaterThanOrEqual(5);
    const lag = await read('stemline_edit_save_lag_seconds_sum');
    expect(lag).toBeGreaterThan(0);
    expect(await read('stemline_edit_save_lag_seconds_bucket', 'le="+Inf"')).toBe(lags);
    // To each of five edits at least one "saved" to its maker and the edit to the other.
    const delivered = (await read('stemline_room_messages_delivered_total')) - deliveredBefore;
    expect(delivered).toBeGreaterThanOrEqual(10);
    await until('checked', () => ada.findings);
    expect(await read('stemline_rule_check_seconds_count')).toBeGreaterThan(0);
    expect(await read('stemline_edits_refused_total')).toBe(0);
    ada.leave();
    ben.leave();
    await until('all left', () => stage.rooms.stats().rooms === 0);
    expect(await read('stemline_room_sockets')).toBe(0);
    expect(await read('stemline_rooms_open')).toBe(0);
  });

  it('count what is refused, by reason, and what ends a connection', async () => {
    const staff = await stage.staff();
    const head = await stage.person(staff, 'Eva Lund', 'headCoach');
    const player = await stage.person(staff, 'Eli Marsh', 'player');
    const board = await stage.board(head);
    const hostile = stage.raw(board, { cookie: head.cookie });
    await hostile.opened;
    const ydoc = newDocument();
    ydoc.getMap('contraband').set('x', 1);
    hostile.send(change(Y.encodeStateAsUpdate(ydoc)));
    await hostile.closed;
    expect(await read('stemline_edits_refused_total')).toBe(1);
    expect(await read('stemline_edits_quarantined_total', 'kept="yes"')).toBe(1);
    expect(await read('stemline_room_sockets_ended_total', 'refusedEdit')).toBe(1);

    const broken = stage.raw(board, { cookie: head.cookie });
    await broken.opened;
    broken.send(Uint8Array.of(99));
    await broken.closed;
    expect(await read('stemline_room_sockets_ended_total', 'malformed')).toBe(1);

    await stage.raw(board, { cookie: player.cookie }).closed;
    await stage.raw(board).closed;
    await stage.raw(board, { cookie: head.cookie, origin: 'https://evil.example' }).answered;
    for (const reason of ['notAllowed', 'notSignedIn', 'foreignOrigin'])
      expect([reason, await read('stemline_room_requests_refused_total', reason)]).toEqual([
        reason,
        1,
      ]);
  });

  it('count a slow reader who is cut off', async () => {
    const slow = new Registry();
    const strict = await openStage({ registry: slow, limits: { maxBufferedBytes: -1 } });
    const staff = await strict.staff();
    const head = await strict.person(staff, 'Ada Holm', 'headCoach');
    const { code } = await strict.raw(await strict.board(head), { cookie: head.cookie }).closed;
    expect(code).toBe(4501);
    expect(await slow.metrics()).toContain('stemline_room_slow_readers_total 1');
    await strict.close();
  });
});
