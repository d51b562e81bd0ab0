import { frame } from '@stemline/protocol/message';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type * as Y from 'yjs';
import type { Person } from './support/accounts.ts';
import { type Coach, until } from './support/coach.ts';
import { presence, type Raw } from './support/raw.ts';
import { openStage, type Stage } from './support/stage.ts';

let stage: Stage;
let ada: Person;
let ben: Person;
let board: string;

beforeAll(async () => {
  stage = await openStage();
  const staff = await stage.staff();
  ada = await stage.person(staff, 'Ada Holm', 'headCoach');
  ben = await stage.person(staff, 'Ben Ruiz', 'coordinator');
});
afterAll(() => stage?.close());
beforeEach(async () => {
  board = await stage.board(ada);
});

const statesSeenBy = (coach: Coach) => coach.provider.awareness.getStates();
/** What `who` sees of the presence of `whom`. */
const seen = (who: Coach, whom: { ydoc: Y.Doc }) => statesSeenBy(who).get(whom.ydoc.clientID);

async function together(): Promise<[Coach, Coach]> {
  const a = stage.coach(board, ada);
  const b = stage.coach(board, ben);
  await until('both synced and seen', () => a.synced && b.synced && seen(a, b) && seen(b, a));
  return [a, b];
}

async function inRoom(who: Person): Promise<Raw> {
  const raw = stage.raw(board, { cookie: who.cookie });
  await until('in', () => raw.frames.length > 0);
  return raw;
}

describe('presence', () => {
  it('R40 the server writes who it is, whatever the client says', async () => {
    const [a, b] = await together();
    b.provider.awareness.setLocalState({
      member: { id: ada.memberId, name: 'Ada Holm', color: '#000' },
      user: { name: 'Ada Holm', color: '#000' },
      cursor: [1, 2],
    });
    const state = await until('seen', () => seen(a, b)?.cursor && seen(a, b));
    expect(state.member).toMatchObject({ id: ben.memberId, name: 'Ben Ruiz' });
    expect(state.user.name).toBe('Ben Ruiz');
    expect(state.cursor).toEqual([1, 2]);
  });

  it('R41 is gone when the connection ends, however it ends', async () => {
    const [a, b] = await together();
    b.provider.ws?.close();
    await until('gone', () => !seen(a, b));
    await until('back', () => seen(a, b));
    const cut = b.provider.ws as unknown as { terminate(): void };
    b.provider.shouldConnect = false;
    cut.terminate();
    await until('gone again', () => !seen(a, b));
  });

  it('R45 who returns is seen at once, though his own clock stands still', async () => {
    const [a, b] = await together();
    const clock = b.provider.awareness.meta.get(b.ydoc.clientID)?.clock;
    b.provider.disconnect();
    await until('gone', () => !seen(a, b));
    // `disconnect` of the provider keeps the state and its clock.
    expect(b.provider.awareness.getLocalState()).not.toBeNull();
    b.provider.connect();
    await until('back', () => seen(a, b), 5_000);
    expect(b.provider.awareness.meta.get(b.ydoc.clientID)?.clock).toBe(clock);
  });

  it('R42 echoes of plain clients change nothing and cost nothing', async () => {
    const [a, b] = await together();
    const c = stage.coach(board, ben);
    await until('three', () => seen(c, a) && seen(a, c));
    // Every one of them sends back what it is told; 60 moves in a row are above nobody's limit but the sender's own.
    for (let i = 1; i <= 60; i++) a.provider.awareness.setLocalStateField('cursor', [i, 0]);
    await until(
      'the last one arrives',
      () => seen(b, a)?.cursor?.[0] === 60 && seen(c, a)?.cursor?.[0] === 60,
    );
    expect([a, b, c].flatMap(({ closes }) => closes)).toEqual([]);
    expect(seen(b, c)).toBeDefined();
  });

  it('R42 above the rate the newest state comes later; far above it the client is cut off', async () => {
    const [a] = await together();
    const raw = await inRoom(ben);
    for (let i = 1; i <= 100; i++) raw.send(presence([{ id: 77, clock: i, state: { step: i } }]));
    await until('the newest', () => statesSeenBy(a).get(77)?.step === 100);
    for (let i = 101; i <= 2_000; i++)
      raw.send(presence([{ id: 77, clock: i, state: { step: i } }]));
    expect((await raw.closed).code).toBe(4429);
    await until('gone', () => !statesSeenBy(a).has(77));
  });

  it('R41 a connection speaks for one id only', async () => {
    const [a] = await together();
    const raw = await inRoom(ben);
    raw.send(
      presence([
        { id: 77, clock: 1, state: { step: 1 } },
        { id: 78, clock: 1, state: { ghost: true } },
      ]),
    );
    raw.send(presence([{ id: 79, clock: 1, state: { ghost: true } }]));
    raw.send(presence([{ id: 77, clock: 2, state: { step: 2 } }]));
    await until('the last one', () => statesSeenBy(a).get(77)?.step === 2);
    expect(statesSeenBy(a).has(78)).toBe(false);
    expect(statesSeenBy(a).has(79)).toBe(false);
    raw.socket.close();
  });

  it('R43 news about a live colleague closes with 4405, an old state of his is an echo', async () => {
    const [a, b] = await together();
    const raw = await inRoom(ben);
    raw.send(presence([{ id: a.ydoc.clientID, clock: 1, state: { member: 'fake' } }]));
    raw.send(presence([{ id: a.ydoc.clientID, clock: 1, state: null }]));
    raw.send(presence([{ id: 77, clock: 1, state: { step: 1 } }]));
    await until('the own one passes', () => statesSeenBy(b).get(77));
    expect(seen(b, a)).toMatchObject({ member: { name: 'Ada Holm' } });
    const told = b.provider.awareness.meta.get(a.ydoc.clientID)?.clock ?? 0;
    raw.send(presence([{ id: a.ydoc.clientID, clock: told + 1, state: { fake: true } }]));
    expect((await raw.closed).code).toBe(4405);
    expect(seen(b, a)).not.toHaveProperty('fake');
    expect(a.closes).toEqual([]);
  });

  it('R43 nobody takes over the id of somebody else, not even as his first word', async () => {
    const [a, b] = await together();
    const raw = await inRoom(ben);
    raw.send(presence([{ id: a.ydoc.clientID, clock: 50, state: { mine: true } }]));
    raw.send(presence([{ id: 77, clock: 1, state: { step: 1 } }]));
    await until('passes', () => statesSeenBy(b).get(77));
    expect(seen(b, a)).not.toHaveProperty('mine');
    raw.socket.close();
    await until('gone', () => !statesSeenBy(b).has(77));
    expect(seen(b, a)).toBeDefined();
  });

  it.each([
    ['a text', 'not an object'],
    ['a list', [1, 2]],
    ['too much', { text: 'x'.repeat(5_000) }],
  ])('R44 %s is no presence state', async (_name, state) => {
    const raw = await inRoom(ben);
    raw.send(presence([{ id: 77, clock: 1, state }]));
    expect((await raw.closed).code).toBe(4400);
  });

  it('whoever asks thousands of times who is here is told once a turn', async () => {
    const a = stage.coach(board, ada);
    await until('synced', () => a.synced);
    const raw = await inRoom(ben);
    const before = raw.frames.length;
    const asked = 5_000;
    for (let i = 0; i < asked; i++) raw.send(Uint8Array.of(frame.queryAwareness));
    raw.socket.ping();
    await new Promise((resolve) => raw.socket.once('pong', resolve));
    await until('told', () => raw.frames.length > before);
    expect(raw.frames.length - before).toBeLessThan(asked / 10);
  });

  it('a plain awareness with nothing to say hears of the others all the same', async () => {
    const a = stage.coach(board, ada);
    await until('synced', () => a.synced);
    const silent = stage.coach(board, ben);
    silent.provider.awareness.setLocalState(null);
    await until('sees', () => seen(silent, a));
  });
});
