import { createBoardState } from '@stemline/board/create';
import { playersOf } from '@stemline/football/formation';
import { playerIdSchema } from '@stemline/football/ids';
import type { Situation } from '@stemline/football/play';
import { documentVersion, type Refused } from '@stemline/protocol/message';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import type { OpenCopy } from './browser-copy.ts';
import { LiveBoard } from './live-board.ts';
import type { OpenRoom, RoomLinkEvents } from './room-link.ts';

const situation: Situation = { code: 'college', spot: 'middle', toGoal: 60, down: 1, toGain: 10 };
const h = playerIdSchema.parse('h');
const shared = createBoardState({
  name: 'Ledger',
  concept: '',
  situation,
  players: playersOf('doubles', { strength: 'right', situation }),
  routes: {},
  motions: {},
  cards: [],
});
const refused: Refused = { code: 'scope', why: 'not yours', mend: 'ask', elements: [] };

interface FakeLink {
  doc: Y.Doc;
  events: RoomLinkEvents;
  changes: number;
  ended: boolean;
  retries: number;
}

/** A room and a browser store that do what they are told. */
function fakes(kept?: Uint8Array) {
  const custom: { saved: Uint8Array | null } = { saved: null };
  const links: FakeLink[] = [];
  const dropped: string[] = [];
  const store = {
    write: () => Promise.resolve(true),
    drop: () => Promise.resolve(),
    lose: (): void => undefined,
  };
  const openRoom: OpenRoom = (_board, doc, _awareness, events) => {
    const link: FakeLink = { doc, events, changes: 0, ended: false, retries: 0 };
    doc.on('update', (_update, _origin, _doc, transaction) => {
      if (transaction.local) link.changes += 1;
    });
    links.push(link);
    return {
      nextChange: () => link.changes + 1,
      retry: () => {
        link.retries += 1;
      },
      destroy: () => {
        link.ended = true;
      },
    };
  };
  const openCopy: OpenCopy = (name, doc, onLost) => {
    store.lose = onLost;
    return {
      loaded: Promise.resolve().then(() => {
        if (kept && dropped.length === 0) Y.applyUpdate(doc, kept, 'kept');
        return { savedThen: custom.saved };
      }),
      keepSaved: (stateVector) => {
        custom.saved = stateVector;
      },
      written: () => store.write(),
      close: () => undefined,
      drop: async () => {
        dropped.push(name);
        await store.drop();
      },
    };
  };
  return { links, dropped, store, custom, openRoom, openCopy };
}

async function opened(kept?: Uint8Array) {
  const fake = fakes(kept);
  const live = new LiveBoard({ boardId: 'b1', memberId: 'm1', ...fake });
  await expect.poll(() => fake.links.length).toBe(1);
  const join = (link: FakeLink): void => {
    Y.applyUpdate(link.doc, shared, 'room');
    link.events.synced();
  };
  return { live, join, ...fake };
}
const link = (links: FakeLink[], at: number): FakeLink => {
  const found = links[at];
  if (!found) throw new Error('no such link');
  return found;
};
const saved = ({ doc, events, changes }: FakeLink): void =>
  events.message({
    type: 'saved',
    stateVector: Y.encodeStateVector(doc),
    updates: changes,
  });

describe('a live board', () => {
  it('says saved only when the room has', async () => {
    const { live, links, join } = await opened();
    join(link(links, 0));
    expect(live.state().connection).toEqual({ kind: 'saved' });
    live.state().session.document.movePlayer(h, [8, -2]);
    live.state().session.document.clearRoute(h);
    expect(live.state().connection).toMatchObject({ kind: 'saving', unsaved: 1 });
    saved(link(links, 0));
    expect(live.state().connection).toEqual({ kind: 'saved' });
    live.end();
  });

  it('keeps counting what was changed offline', async () => {
    const { live, links, join } = await opened();
    join(link(links, 0));
    link(links, 0).events.down();
    live.state().session.document.movePlayer(h, [8, -2]);
    live.state().session.document.movePlayer(h, [9, -2]);
    expect(live.state().connection).toMatchObject({ kind: 'offline', unsaved: 2 });
    live.end();
  });

  it('says that the browser keeps an edit only when its store has committed it', async () => {
    const { live, links, join, store } = await opened();
    join(link(links, 0));
    link(links, 0).events.down();
    const commits: ((kept: boolean) => void)[] = [];
    store.write = () => new Promise((resolve) => commits.push(resolve));
    live.state().session.document.movePlayer(h, [8, -2]);
    live.state().session.document.movePlayer(h, [9, -2]);
    const offline = { kind: 'offline', unsaved: 2 };
    expect(live.state().connection).toEqual({ ...offline, kept: false });
    commits[0]?.(true);
    await Promise.resolve();
    expect(live.state().connection).toEqual({ ...offline, kept: false });
    commits[1]?.(true);
    await expect.poll(() => live.state().connection).toEqual({ ...offline, kept: true });
    live.state().session.document.movePlayer(h, [7, -2]);
    commits[2]?.(false);
    await Promise.resolve();
    expect(live.state().connection).toEqual({ kind: 'offline', unsaved: 3, kept: false });
    live.end();
  });

  it('does not go on saying that the browser keeps what it has lost', async () => {
    const { live, links, join, store } = await opened();
    join(link(links, 0));
    link(links, 0).events.down();
    live.state().session.document.movePlayer(h, [8, -2]);
    await expect.poll(() => live.state().connection).toMatchObject({ kept: true });
    let commit: (kept: boolean) => void = () => undefined;
    store.write = () =>
      new Promise((resolve) => {
        commit = resolve;
      });
    live.state().session.document.movePlayer(h, [9, -2]);
    store.lose();
    // Committed before the copy was taken away.
    commit(true);
    await Promise.resolve();
    await Promise.resolve();
    expect(live.state().connection).toEqual({ kind: 'offline', unsaved: 2, kept: false });
    live.end();
  });

  it('holds what a closed browser left unsaved until the room has it', async () => {
    const doc = new Y.Doc();
    doc.getMap('meta').set('name', 'Left behind');
    const { live, links, join } = await opened(Y.encodeStateAsUpdate(doc));
    expect(live.state().connection).toEqual({ kind: 'connecting', unsaved: 1, kept: true });
    join(link(links, 0));
    expect(live.state().connection).toMatchObject({ kind: 'saving', unsaved: 1 });
    link(links, 0).events.answered(1);
    link(links, 0).changes = 1;
    saved(link(links, 0));
    expect(live.state().connection).toEqual({ kind: 'saved' });
    live.end();
  });

  it('knows after a restart that a deletion was not saved, though it moved no clock', async () => {
    const { live, links, join, custom } = await opened();
    const first = link(links, 0);
    join(first);
    saved(first);
    const { document } = live.state().session;
    document.setDrop('three-step');
    saved(first);
    expect(custom.saved).toEqual(Y.encodeStateVector(document.ydoc));
    const { changes } = first;
    document.setDrop(null);
    expect(custom.saved).toBeNull();
    // What is saved meanwhile says nothing of it.
    first.events.message({
      type: 'saved',
      stateVector: Y.encodeStateVector(document.ydoc),
      updates: changes,
    });
    expect(custom.saved).toBeNull();
    const kept = Y.encodeStateAsUpdate(document.ydoc);
    live.end();

    const again = await opened(kept);
    expect(again.live.state().connection).toMatchObject({ unsaved: 1 });
    const second = link(again.links, 0);
    again.join(second);
    // The room holds every clock and has not yet stored the answer.
    second.events.answered(1);
    second.events.message({
      type: 'saved',
      stateVector: Y.encodeStateVector(second.doc),
      updates: 0,
    });
    expect(again.live.state().connection).toMatchObject({ kind: 'saving', unsaved: 1 });
    second.events.message({
      type: 'saved',
      stateVector: Y.encodeStateVector(second.doc),
      updates: 1,
    });
    expect(again.live.state().connection).toEqual({ kind: 'saved' });
    expect(again.custom.saved).toEqual(Y.encodeStateVector(second.doc));
    again.live.end();
  });

  it('starts afresh after a refusal, forgets its copy, and offers the work back in words', async () => {
    const { live, links, join, dropped } = await opened();
    const first = link(links, 0);
    join(first);
    const before = live.state().session.id;
    live.state().session.document.movePlayer(h, [3, -4]);
    first.events.message({ type: 'refused', refused });
    expect(live.state().connection).toEqual({ kind: 'refused', refused, work: null });
    await expect.poll(() => links.length).toBe(2);
    expect(first.ended).toBe(true);
    expect(dropped).toEqual(['stemline/m1/b1']);
    expect(live.state().session.id).not.toBe(before);
    join(link(links, 1));
    const { connection, refusedPlay } = live.state();
    expect(connection).toMatchObject({ kind: 'refused', refused });
    expect(connection.kind === 'refused' && connection.work).toHaveLength(1);
    expect(refusedPlay?.play.players.find(({ id }) => id === h)?.at).toEqual([3, -4]);
    const now = live.state().session.document.snapshot().board.play;
    expect(now.players.find(({ id }) => id === h)?.at).not.toEqual([3, -4]);
    live.dismissRefused();
    expect(live.state().connection).toEqual({ kind: 'saved' });
    live.end();
  });

  it('offers back too what was written while the refused copy was being forgotten', async () => {
    const { live, links, join, store } = await opened();
    const first = link(links, 0);
    join(first);
    live.state().session.document.movePlayer(h, [3, -4]);
    store.drop = async () => {
      live.state().session.document.setName('Written meanwhile');
    };
    first.events.message({ type: 'refused', refused });
    await expect.poll(() => links.length).toBe(2);
    join(link(links, 1));
    const { connection, refusedPlay } = live.state();
    expect(refusedPlay?.play.name).toBe('Written meanwhile');
    expect(connection.kind === 'refused' && connection.work).toHaveLength(2);
    live.end();
  });

  it('does not listen to a session that has ended', async () => {
    const { live, links, join } = await opened();
    join(link(links, 0));
    link(links, 0).events.message({ type: 'refused', refused });
    await expect.poll(() => links.length).toBe(2);
    join(link(links, 1));
    live.dismissRefused();
    link(links, 0).events.closed(4409);
    expect(live.state().connection).toEqual({ kind: 'saved' });
    live.end();
  });

  it('opens anew when asked after the room closed', async () => {
    const { live, links, join } = await opened();
    join(link(links, 0));
    link(links, 0).events.closed(4406);
    expect(live.state().connection).toMatchObject({ kind: 'closed', code: 4406 });
    live.retry();
    await expect.poll(() => links.length).toBe(2);
    join(link(links, 1));
    expect(live.state().connection).toEqual({ kind: 'saved' });
    live.end();
  });

  it('changes an outdated copy for a fresh one by itself once the room has all of it', async () => {
    const { live, links, join, dropped } = await opened();
    const first = link(links, 0);
    join(first);
    live.state().session.document.movePlayer(h, [8, -2]);
    saved(first);
    first.events.closed(4410);
    await expect.poll(() => links.length).toBe(2);
    expect(first.ended).toBe(true);
    expect(dropped).toEqual(['stemline/m1/b1']);
    join(link(links, 1));
    expect(live.state().connection).toEqual({ kind: 'saved' });
    live.end();
  });

  it('brings what is unsaved to the room before it gives an outdated copy up', async () => {
    const { live, links, join, store } = await opened();
    const first = link(links, 0);
    join(first);
    live.state().session.document.movePlayer(h, [8, -2]);
    first.events.closed(4410);
    await expect.poll(() => first.retries).toBe(1);
    // The copy is being dropped when the coach makes one more.
    first.events.synced();
    saved(first);
    store.drop = async () => {
      live.state().session.document.movePlayer(h, [9, -2]);
    };
    first.events.closed(4410);
    await expect.poll(() => first.retries).toBe(2);
    expect(links).toHaveLength(1);
    saved(first);
    store.drop = () => Promise.resolve();
    first.events.closed(4410);
    await expect.poll(() => links.length).toBe(2);
    live.end();
  });

  it('asks for a reload when the board speaks a newer form', async () => {
    const { live, links, join } = await opened();
    join(link(links, 0));
    link(links, 0).events.message({
      type: 'hello',
      hello: {
        documentVersion: documentVersion + 1,
        member: { id: 'm1', name: 'Ada', role: 'coordinator', group: 'all' },
        mayEdit: true,
        positions: null,
      },
    });
    expect(live.state().connection).toMatchObject({ kind: 'closed', code: 4408 });
    live.end();
  });

  it('keeps what is written on a page that is too old by now', async () => {
    const { live, links, join } = await opened();
    const first = link(links, 0);
    join(first);
    first.events.message({
      type: 'hello',
      hello: {
        documentVersion: documentVersion + 1,
        member: { id: 'm1', name: 'Ada', role: 'coordinator', group: 'all' },
        mayEdit: true,
        positions: null,
      },
    });
    expect(first.ended).toBe(true);
    live.state().session.document.movePlayer(h, [8, -2]);
    expect(live.state().connection).toEqual({ kind: 'closed', code: 4408, unsaved: 1 });
    live.end();
  });

  it('passes events on, and tells when the store is behind', async () => {
    const { live, links, join } = await opened();
    join(link(links, 0));
    const heard: string[] = [];
    live.onEvent(({ kind }) => heard.push(kind));
    link(links, 0).events.message({ type: 'event', event: { kind: 'comments' } });
    live.state().session.document.movePlayer(h, [8, -2]);
    link(links, 0).events.message({ type: 'event', event: { kind: 'saving', behind: true } });
    expect(heard).toEqual(['comments']);
    expect(live.state().connection).toMatchObject({ kind: 'saving', behind: true });
    live.end();
  });

  it('tells while colleagues on other servers are not seen, as long as the room stands', async () => {
    const { live, links, join } = await opened();
    const room = link(links, 0);
    join(room);
    expect(live.state().othersLate).toBe(false);
    room.events.message({ type: 'event', event: { kind: 'servers', away: true } });
    expect(live.state().othersLate).toBe(true);
    expect(live.state().connection).toEqual({ kind: 'saved' });
    room.events.message({ type: 'event', event: { kind: 'servers', away: false } });
    expect(live.state().othersLate).toBe(false);
    room.events.message({ type: 'event', event: { kind: 'servers', away: true } });
    // Cut off, nobody at all is seen; whoever comes back is told anew.
    room.events.down();
    expect(live.state().othersLate).toBe(false);
    live.end();
  });
});
