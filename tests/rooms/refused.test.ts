import { maxStructsOfUpdate } from '@stemline/board/limits';
import { newDocument } from '@stemline/board/schema';
import { decodeMessage } from '@stemline/protocol/codec';
import type { Refused } from '@stemline/protocol/message';
import { asPlayerId } from '@stemline/testkit/plays';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import type { Person } from './support/accounts.ts';
import { type Coach, until } from './support/coach.ts';
import { answer, ask, change, presence, type Raw, shown } from './support/raw.ts';
import { openStage, type Stage } from './support/stage.ts';

let stage: Stage;
let head: Person;
let attacker: Person;
let receivers: Person;
let assistant: Person;
let board: string;
/** An honest colleague who must never notice anything. */
let honest: Coach;

beforeAll(async () => {
  stage = await openStage({ limits: { maxFrameBytes: 65_536, maxDocumentBytes: 60_000 } });
  const staff = await stage.staff();
  head = await stage.person(staff, 'Ada Holm', 'headCoach');
  attacker = await stage.person(staff, 'Mal Grey', 'coordinator');
  receivers = await stage.person(staff, 'Rae Moss', 'positionCoach', 'receivers');
  assistant = await stage.person(staff, 'Cem Aydin', 'assistant');
});
afterAll(() => stage?.close());

beforeEach(async () => {
  board = await stage.board(head);
  honest = stage.coach(board, head);
  await until('the honest one synced', () => honest.synced && honest.saved.length > 0);
});

/** The colleague is still connected, can still write, and the board is what he knows. */
afterEach(async () => {
  expect(honest.closes).toEqual([]);
  expect(honest.refused).toEqual([]);
  const saved = honest.saved.at(-1)?.updates ?? 0;
  expect(honest.board.setConcept('Undisturbed').ok).toBe(true);
  await until(
    'the honest one is saved',
    () => (honest.saved.at(-1)?.updates ?? 0) > saved && honest.isSaved,
  );
  const { content } = await stage.rooms.freeze(board);
  expect(content).toEqual(honest.board.snapshot().board);
  honest.leave();
});

/** A raw socket in the room with a document of its own that is in sync. */
async function intruder(who: Person): Promise<{ raw: Raw; ydoc: Y.Doc }> {
  const raw = stage.raw(board, { cookie: who.cookie });
  await raw.opened;
  raw.send(ask());
  raw.send(answer(Uint8Array.of(0, 0)));
  const players = await until('the intruder synced', () => {
    const ydoc = shown(raw.frames);
    return ydoc.getMap('players').size === 11 && ydoc;
  });
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, Y.encodeStateAsUpdate(players));
  return { raw, ydoc };
}

/** What a change to a document makes as one update. */
function updateOf(ydoc: Y.Doc, work: (ydoc: Y.Doc) => void): Uint8Array {
  const before = Y.encodeStateVector(ydoc);
  let update: Uint8Array | null = null;
  const keep = (bytes: Uint8Array): void => {
    update = bytes;
  };
  ydoc.on('update', keep);
  ydoc.transact(() => work(ydoc));
  ydoc.off('update', keep);
  return update ?? Y.encodeStateAsUpdate(ydoc, before);
}

function refusedOf({ frames }: Raw): Refused | undefined {
  for (const bytes of frames) {
    const decoded = decodeMessage(bytes);
    if (decoded.ok && decoded.message.type === 'refused') return decoded.message.refused;
  }
  return undefined;
}

/** Sends it, and expects refusal with this reason, this code, a quarantine entry and nothing in the log. */
async function expectRefused(
  raw: Raw,
  who: Person,
  update: Uint8Array,
  code: Refused['code'],
  closeCode = 4409,
): Promise<Refused> {
  const logged = await stage.prisma.boardUpdate.count({ where: { boardId: board } });
  raw.send(change(update));
  expect((await raw.closed).code).toBe(closeCode);
  const refused = refusedOf(raw);
  expect(refused?.code).toBe(code);
  expect(refused?.why).not.toBe('');
  expect(refused?.mend).not.toBe('');
  await expect
    .poll(() =>
      stage.prisma.quarantine.findFirst({ where: { boardId: board }, orderBy: { id: 'desc' } }),
    )
    .toMatchObject({ memberId: who.memberId, code });
  expect(await stage.prisma.boardUpdate.count({ where: { boardId: board } })).toBe(logged);
  return refused as Refused;
}

describe('R37 an update is refused whole, and nobody else notices', () => {
  it('R31 one that hides behind a missing one, and what would have let it in', async () => {
    const { raw, ydoc } = await intruder(attacker);
    updateOf(ydoc, (doc) => doc.getMap('meta').set('name', 'Missing link'));
    const hidden = updateOf(ydoc, (doc) => doc.getMap('meta').set('evil', 'BAD'));
    await expectRefused(raw, attacker, hidden, 'pending');
    expect(honest.ydoc.getMap('meta').has('evil')).toBe(false);
  });

  it('R31 a deletion of what never came', async () => {
    const { raw } = await intruder(attacker);
    const other = new Y.Doc();
    const map = other.getMap('players');
    map.set('H', { label: 'H', position: 'WR', number: 1 });
    const deletion = updateOf(other, () => map.delete('H'));
    await expectRefused(raw, attacker, deletion, 'pending');
  });

  it('R32 a deletion without structs of what is not in his scope', async () => {
    const { raw, ydoc } = await intruder(receivers);
    const deletion = updateOf(ydoc, (doc) => {
      doc.getMap('players').delete('Q');
      doc.getMap('spots').delete('Q');
    });
    const refused = await expectRefused(raw, receivers, deletion, 'scope');
    expect(refused.elements).toContain('Q');
    expect(honest.ydoc.getMap('players').has('Q')).toBe(true);
  });

  it("R33 structs under a live colleague's id, learned from his presence before his first edit", async () => {
    const { raw, ydoc } = await intruder(attacker);
    ydoc.clientID = honest.ydoc.clientID;
    const forged = updateOf(ydoc, (doc) => doc.getMap('meta').set('name', 'Forged'));
    await expectRefused(raw, attacker, forged, 'foreignClient');
  });

  it('R33 R43 an id is his who showed himself under it first, though he left before his first edit', async () => {
    const away = stage.coach(board, receivers);
    const { clientID } = away.ydoc;
    const isSeen = () => honest.provider.awareness.getStates().has(clientID);
    await until('in and seen', () => away.synced && isSeen());
    away.provider.disconnect();
    await until('gone', () => !isSeen());
    away.board.movePlayer(asPlayerId('H'), [-9.5, -1]);

    const squatter = await intruder(attacker);
    squatter.raw.send(presence([{ id: clientID, clock: Date.now() * 2, state: { here: true } }]));
    expect((await squatter.raw.closed).code).toBe(4405);
    const { raw, ydoc } = await intruder(attacker);
    ydoc.clientID = clientID;
    const forged = updateOf(ydoc, (doc) => doc.getMap('meta').set('name', 'Forged'));
    await expectRefused(raw, attacker, forged, 'foreignClient');

    away.provider.connect();
    await until('saved', () => away.synced && away.isSaved);
    await until('seen', () => honest.ydoc.getMap('spots').get('H'));
    expect(honest.ydoc.getMap('spots').get('H')).toEqual([-9.5, -1]);
    expect(away.closed).toBeNull();
    away.leave();
  });

  it('R33 structs under the id of somebody who has left', async () => {
    const { raw, ydoc } = await intruder(attacker);
    const gone = stage.coach(board, receivers);
    await until('synced', () => gone.synced);
    gone.board.movePlayer(asPlayerId('H'), [-9, -1]);
    await until(
      'saved',
      () =>
        gone.isSaved &&
        honest.board.snapshot().board.play.players.find(({ id }) => id === 'H')?.at[0] === -9,
    );
    Y.applyUpdate(ydoc, Y.encodeStateAsUpdate(gone.ydoc));
    const { clientID } = gone.ydoc;
    gone.leave();
    ydoc.clientID = clientID;
    const forged = updateOf(ydoc, (doc) => doc.getMap('meta').set('name', 'Forged'));
    await expectRefused(raw, attacker, forged, 'foreignClient');
    expect(
      await stage.prisma.boardClient.findMany({ where: { boardId: board, clientId: clientID } }),
    ).toMatchObject([{ memberId: receivers.memberId }]);
  });

  it('R33 what a second copy of his wrote under the id of the first, and the first goes on', async () => {
    const first = await intruder(attacker);
    const second = await intruder(attacker);
    second.ydoc.clientID = first.ydoc.clientID;
    first.raw.send(change(updateOf(first.ydoc, (doc) => doc.getMap('spots').set('H', [-9, -1]))));
    await until('seen', () => String(honest.ydoc.getMap('spots').get('H')) === '-9,-1');
    const other = updateOf(second.ydoc, (doc) => doc.getMap('meta').set('name', 'Elsewhere'));
    await expectRefused(second.raw, attacker, other, 'foreignClient');
    first.raw.send(change(updateOf(first.ydoc, (doc) => doc.getMap('spots').set('H', [-8, -1]))));
    await until('seen', () => String(honest.ydoc.getMap('spots').get('H')) === '-8,-1');
    first.raw.socket.close();
  });

  it("R33 structs under the server's own id", async () => {
    const { raw, ydoc } = await intruder(attacker);
    ydoc.clientID = 1;
    const forged = updateOf(ydoc, (doc) => doc.getMap('meta').set('name', 'Forged'));
    await expectRefused(raw, attacker, forged, 'foreignClient');
  });

  it('R30 a struct whose content is gone, repeated with another, reaches nobody, not even who has not synced', async () => {
    const { raw, ydoc } = await intruder(attacker);
    honest.board.setName('First name');
    honest.board.setName('True name');
    await until('seen', () => shown(raw.frames).getMap('meta').get('name') === 'True name');
    // The same id and length, forged content, sent along with an honest change.
    const forger = newDocument();
    Y.applyUpdate(forger, Y.encodeStateAsUpdate(ydoc));
    forger.clientID = honest.ydoc.clientID;
    const forged = updateOf(forger, (doc) => doc.getMap('meta').set('name', 'Fake name'));
    Y.applyUpdate(ydoc, Y.encodeStateAsUpdate(honest.ydoc));
    const own = updateOf(ydoc, (doc) => doc.getMap('meta').set('concept', 'Mine'));
    // Joined, but it has not asked to sync yet: it sees what is broadcast and nothing before.
    const waiting = stage.raw(board, { cookie: head.cookie });
    await until('waiting is in', () => waiting.frames.length > 0);
    raw.send(change(Y.mergeUpdates([forged, own])));
    await until(
      'the honest part arrived',
      () => honest.ydoc.getMap('meta').get('concept') === 'Mine',
    );
    waiting.send(ask());
    const seen = await until('waiting synced', () => {
      const doc = shown(waiting.frames);
      return doc.getMap('players').size === 11 && doc;
    });
    expect(seen.getMap('meta').get('name')).toBe('True name');
    expect(honest.ydoc.getMap('meta').get('name')).toBe('True name');
    raw.socket.close();
    waiting.socket.close();
  });

  it("R33 a colleague's struct repeated with another content", async () => {
    const { raw, ydoc } = await intruder(attacker);
    ydoc.clientID = honest.ydoc.clientID;
    const forged = updateOf(ydoc, (doc) => doc.getMap('meta').set('name', 'Fake name'));
    honest.board.setName('True name');
    await until('seen', () => shown(raw.frames).getMap('meta').get('name') === 'True name');
    await expectRefused(raw, attacker, forged, 'foreignClient');
    expect(honest.ydoc.getMap('meta').get('name')).toBe('True name');
  });

  it('R34 a root that no board has', async () => {
    const { raw, ydoc } = await intruder(attacker);
    await expectRefused(
      raw,
      attacker,
      updateOf(ydoc, (doc) => doc.getMap('contraband').set('x', 1)),
      'undeclaredRoot',
    );
    expect(honest.ydoc.share.has('contraband')).toBe(false);
  });

  it.each<[string, (doc: Y.Doc) => void]>([
    ['a player without a position', (doc) => doc.getMap('players').set('H', { label: 'H' })],
    ['a spot off the earth', (doc) => doc.getMap('spots').set('H', [4000, 0])],
    ['a number that is none', (doc) => doc.getMap('spots').set('H', [Number.NaN, 0])],
    ['a shared type in place of a value', (doc) => doc.getMap('spots').set('H', new Y.Map())],
    ['a giant text', (doc) => doc.getMap('meta').set('name', 'x'.repeat(50_000))],
    [
      'a deep nest',
      (doc) =>
        doc.getMap('meta').set('situation', JSON.parse(`${'['.repeat(500)}${']'.repeat(500)}`)),
    ],
    [
      'a name that is a prototype',
      (doc) => doc.getMap('players').set('__proto__', { label: 'H', position: 'WR', number: 1 }),
    ],
    ['the version of the document', (doc) => doc.getMap('meta').set('version', 99)],
    [
      'everything at once',
      (doc) => {
        for (const root of ['meta', 'players', 'spots']) doc.getMap(root).clear();
      },
    ],
  ])('R35 %s', async (_name, work) => {
    const { raw, ydoc } = await intruder(attacker);
    await expectRefused(raw, attacker, updateOf(ydoc, work), 'schema');
  });

  it('R35 half a character, which no UTF-8 can carry', async () => {
    const { raw, ydoc } = await intruder(attacker);
    const whole = Buffer.from(updateOf(ydoc, (doc) => doc.getMap('meta').set('name', 'x\ufffd')));
    const at = whole.indexOf(Buffer.from('\ufffd'));
    expect(at).toBeGreaterThan(0);
    Buffer.from([0xed, 0xa0, 0x80]).copy(whole, at);
    await expectRefused(raw, attacker, new Uint8Array(whole), 'malformed');
  });

  it('R35 a position coach outside his positions; inside them he may', async () => {
    const inside = stage.coach(board, receivers);
    await until('greeted', () => inside.synced && inside.mayEdit);
    expect(inside.hellos[0]?.positions).toEqual(['WR', 'TE']);
    inside.board.movePlayer(asPlayerId('H'), [-7, -1.2]);
    await until('saved', () => inside.isSaved && inside.saved.length > 1);
    inside.board.movePlayer(asPlayerId('F'), [3, -5]);
    const closed = await until('closed', () => inside.closed);
    expect(closed.code).toBe(4409);
    expect(inside.refused[0]).toMatchObject({ code: 'scope' });
    expect(inside.refused[0]?.elements).toEqual(['where F stands']);
    expect(inside.provider.shouldConnect).toBe(false);
    inside.leave();
  });

  it('R35 an assistant who is not let in; let in he may', async () => {
    const outside = stage.coach(board, assistant);
    await until('synced', () => outside.synced);
    outside.board.setName('Not mine');
    expect((await until('closed', () => outside.closed)).code).toBe(4409);
    expect(outside.refused[0]).toMatchObject({ code: 'readOnly' });
    outside.leave();
    await stage.prisma.letIn.create({
      data: { boardId: board, memberId: assistant.memberId, by: head.memberId },
    });
    const inside = stage.coach(board, assistant);
    await until('greeted', () => inside.synced && inside.mayEdit);
    inside.board.setName('Now mine');
    await until('saved', () => inside.isSaved && inside.saved.length > 1);
    inside.leave();
  });

  it('R35 an archived board', async () => {
    const archived = await stage.board(head);
    await stage.prisma.board.update({ where: { id: archived }, data: { archivedAt: new Date() } });
    const coach = stage.coach(archived, head);
    await until('greeted', () => coach.synced && coach.mayEdit === false);
    coach.board.setName('Too late');
    expect((await until('closed', () => coach.closed)).code).toBe(4409);
    coach.leave();
  });

  it('R30 a board that would grow past its budget', async () => {
    const { raw, ydoc } = await intruder(attacker);
    const text = 'x'.repeat(15_000);
    let sent = 0;
    while (raw.socket.readyState === raw.socket.OPEN && sent < 10) {
      const update = updateOf(ydoc, (doc) => {
        const paragraph = new Y.XmlElement('paragraph');
        paragraph.insert(0, [new Y.XmlText(text)]);
        const notes = doc.getXmlFragment('notes');
        notes.insert(notes.length, [paragraph]);
      });
      raw.send(change(update));
      sent += 1;
      await new Promise(setImmediate);
    }
    expect((await raw.closed).code).toBe(4413);
    expect(refusedOf(raw)?.code).toBe('tooLarge');
  });
});

describe('what cannot be read', () => {
  const vectorOf = (writers: number): Uint8Array =>
    Y.encodeStateVector(new Map(Array.from({ length: writers }, (_, i) => [i + 2, 1])));

  it.each([
    ['no bytes', Uint8Array.of()],
    ['noise', Uint8Array.of(255, 254, 253, 1, 2, 3)],
    ['a sync step that does not exist', Uint8Array.of(0, 9, 1, 0)],
    ['an update longer than its frame', Uint8Array.of(0, 2, 200, 1, 0, 0)],
    ['bytes after the end', Uint8Array.of(0, 2, 2, 0, 0, 7)],
    ["a message of the server's own", Uint8Array.of(101, 1, 0, 0)],
    ['presence that breaks off', Uint8Array.of(1, 3, 1, 5, 1)],
    ['a state vector of noise', Uint8Array.of(0, 0, 3, 255, 255, 255)],
    ['a state vector of more writers than any board has', ask(vectorOf(12_000))],
  ])('R39 %s closes with 4400', async (_name, bytes) => {
    const raw = stage.raw(board, { cookie: attacker.cookie });
    await until('in', () => raw.frames.length > 0);
    raw.send(bytes);
    expect((await raw.closed).code).toBe(4400);
  });

  it('R39 a message in a hundred thousand pieces closes with 4400', async () => {
    const raw = stage.raw(board, { cookie: attacker.cookie });
    await until('in', () => raw.frames.length > 0);
    for (let i = 0; i < 100_000; i++) raw.socket.send(Uint8Array.of(0), { fin: false });
    expect((await raw.closed).code).toBe(4400);
  });

  it('R39 text in place of bytes closes with 4400', async () => {
    const raw = stage.raw(board, { cookie: attacker.cookie });
    await until('in', () => raw.frames.length > 0);
    raw.socket.send('hello');
    expect((await raw.closed).code).toBe(4400);
  });

  it('R39 an update of noise is refused and kept', async () => {
    const { raw } = await intruder(attacker);
    await expectRefused(raw, attacker, Uint8Array.of(9, 9, 9, 9, 9, 9), 'malformed');
  });

  it('R39 a frame above the limit closes with 4413, and a plain client stops', async () => {
    const coach = stage.coach(board, attacker);
    await until('synced', () => coach.synced);
    coach.ydoc.getMap('meta').set('name', 'x'.repeat(100_000));
    expect((await until('closed', () => coach.closed)).code).toBe(4413);
    expect(coach.provider.shouldConnect).toBe(false);
    coach.leave();
  });
});

describe('what takes long to refuse', () => {
  /** Pieces by the thousand: more than any board has of a kind. */
  function costly(): Uint8Array {
    const ydoc = new Y.Doc();
    return updateOf(ydoc, (doc) => {
      for (let i = 0; i < maxStructsOfUpdate / 2; i++) doc.getMap('spots').set(`p${i}`, [0, 0]);
    });
  }

  it('R76 waits its turn: the next is not judged before a colleague has edited', async () => {
    const wide = await openStage({ prisma: stage.prisma });
    const here = await wide.board(head);
    const colleague = wide.coach(here, head);
    await until('synced', () => colleague.synced && colleague.saved.length > 0);
    const raws = Array.from({ length: 2 }, () => wide.raw(here, { cookie: attacker.cookie }));
    let ended = 0;
    const codes = raws.map(async (raw) => {
      const { code } = await raw.closed;
      ended += 1;
      return code;
    });
    await Promise.all(raws.map((raw) => until('in', () => raw.frames.length > 0)));
    for (const raw of raws) raw.send(answer(costly()));
    await Promise.race(codes);
    colleague.board.setConcept('In between');
    await until('saved', () => colleague.isSaved);
    expect(ended).toBe(1);
    expect(colleague.closes).toEqual([]);
    expect(await Promise.all(codes)).toEqual([4413, 4413]);
    colleague.leave();
    await wide.close();
  });
});

describe('what brings nothing new', () => {
  it('R38 is neither stored nor refused, from a reader who has deletions too', async () => {
    honest.board.removePlayer(asPlayerId('F'));
    await until('gone', () => !honest.ydoc.getMap('players').has('F'));
    await expect.poll(() => stage.prisma.boardUpdate.count({ where: { boardId: board } })).toBe(2);
    const reader = stage.coach(board, assistant);
    await until('synced', () => reader.synced && reader.saved.length > 0);
    const twice = stage.coach(board, assistant, reader.ydoc);
    await until('synced again', () => twice.synced && twice.saved.length > 0);
    expect(twice.closed).toBeNull();
    expect(await stage.prisma.boardUpdate.count({ where: { boardId: board } })).toBe(2);
    const offered = stage.raw(board, { cookie: assistant.cookie });
    await until('in', () => offered.frames.length > 0);
    offered.send(answer(Y.encodeStateAsUpdate(reader.ydoc)));
    await until('acknowledged', () =>
      offered.frames.some((bytes) => {
        const decoded = decodeMessage(bytes);
        return decoded.ok && decoded.message.type === 'saved' && decoded.message.updates === 1;
      }),
    );
    offered.socket.close();
    reader.provider.destroy();
    twice.leave();
  });

  it('R36 one member cannot fill the quarantine', async () => {
    const few = await openStage({ prisma: stage.prisma, limits: { quarantinedPerMinute: 2 } });
    const here = await few.board(head);
    for (let i = 0; i < 4; i++) {
      const raw = few.raw(here, { cookie: assistant.cookie });
      await until('in', () => raw.frames.length > 0);
      const other = new Y.Doc();
      other.getMap('contraband').set('i', i);
      raw.send(answer(Y.encodeStateAsUpdate(other)));
      expect((await raw.closed).code).toBe(4409);
    }
    expect(few.rooms.stats().refused).toBe(4);
    await few.close();
    expect(await stage.prisma.quarantine.count({ where: { boardId: here } })).toBe(2);
  });
});
