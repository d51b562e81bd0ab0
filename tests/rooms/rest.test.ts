import { asPlayerId } from '@stemline/testkit/plays';
import { Registry } from 'prom-client';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import type { Person } from './support/accounts.ts';
import { until } from './support/coach.ts';
import { ask, change } from './support/raw.ts';
import { openStage, type Stage } from './support/stage.ts';

/** A room of which only the bytes are kept while nothing happens. */
describe('a resting board', () => {
  const registry = new Registry();
  let stage: Stage;
  let ada: Person;
  let ben: Person;

  beforeAll(async () => {
    stage = await openStage({ registry, limits: { idleUnloadMs: 1, restMs: 20 } });
    const staff = await stage.staff();
    ada = await stage.person(staff, 'Ada Holm', 'headCoach');
    ben = await stage.person(staff, 'Ben Ruiz', 'coordinator');
  });
  afterAll(() => stage.close());

  const resting = async (): Promise<number> => {
    const metrics = await registry.metrics();
    return Number(/^stemline_rooms_resting (\d+)$/m.exec(metrics)?.[1]);
  };
  const rested = (): Promise<void> =>
    expect.poll(resting, { timeout: 10_000, interval: 10 }).toBe(1);

  it('R89 is edited, joined, checked and frozen as if it never rested', async () => {
    const board = await stage.board(ada);
    const a = stage.coach(board, ada);
    await until('synced and checked', () => a.synced && a.findings);
    await rested();

    // An edit wakes it, and is committed and checked like any other.
    a.board.setName('After a rest');
    a.board.removePlayer(asPlayerId('F'));
    await until('saved', () => a.isSaved);
    await rested();

    // Who comes has all of it, and it goes on resting for him.
    const b = stage.coach(board, ben);
    await until('synced', () => b.synced);
    expect(b.board.snapshot()).toEqual(a.board.snapshot());
    await until('told what is found', () => b.findings);

    // Both edit after the next rest, and see each other's.
    await rested();
    b.board.setConcept('Mesh');
    await until('seen', () => a.board.snapshot().board.play.concept === 'Mesh');
    await rested();
    const { content } = await stage.rooms.freeze(board);
    expect(content).toEqual(a.board.snapshot().board);
    await rested();

    // What is durable in the end is what everybody has.
    a.leave();
    b.leave();
    await until('unloaded', () => stage.rooms.stats().rooms === 0);
    const late = stage.coach(board, ben);
    await until('synced', () => late.synced);
    expect(Y.encodeStateAsUpdate(late.ydoc)).toEqual(Y.encodeStateAsUpdate(a.ydoc));
    late.leave();
    await until('unloaded', () => stage.rooms.stats().rooms === 0);
  });

  it('R33 R37 R89 refuses after a rest what it refused before', async () => {
    const board = await stage.board(ada);
    const a = stage.coach(board, ada);
    await until('synced', () => a.synced);
    a.board.setName('Ada was here');
    await until('saved', () => a.isSaved);
    await rested();
    const forged = new Y.Doc();
    Y.applyUpdate(forged, Y.encodeStateAsUpdate(a.ydoc));
    const before = Y.encodeStateVector(forged);
    forged.clientID = a.ydoc.clientID;
    forged.getMap('meta').set('name', 'Forged');
    const raw = stage.raw(board, { cookie: ben.cookie });
    await raw.opened;
    raw.send(ask());
    raw.send(change(Y.encodeStateAsUpdate(forged, before)));
    expect((await raw.closed).code).toBe(4409);
    expect(a.closed).toBeNull();
    a.board.setName('Ada is still here');
    await until('saved', () => a.isSaved);
    await rested();
    const { content } = await stage.rooms.freeze(board);
    expect(content.play.name).toBe('Ada is still here');
    a.leave();
    await until('unloaded', () => stage.rooms.stats().rooms === 0);
  });
});
