import { newDocument } from '@stemline/board/schema';
import { frame } from '@stemline/protocol/message';
import * as encoding from 'lib0/encoding';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import type { Person } from './support/accounts.ts';
import { type Coach, until } from './support/coach.ts';
import { answer, ask, change, presence, type Raw, shown } from './support/raw.ts';
import { openStage, type Stage } from './support/stage.ts';

/** What a message came to: it was heeded, or the socket was closed with this code. */
type Outcome = 'heeded' | number;

/** Those who get into the room. */
const inside = [
  'head coach',
  'coordinator',
  'position coach of all',
  'position coach of the receivers',
  'assistant',
  'assistant let in',
] as const;
type Inside = (typeof inside)[number];

/** Those who do not, or not any more, and with which code. */
const outside = {
  player: 4403,
  'head coach of another staff': 4404,
  'signed out': 4401,
  'with a session that has run out': 4401,
  'removed before': 4404,
} as const;

interface Hand {
  raw: Raw;
  ydoc: Y.Doc;
  who: Person;
}
interface Message {
  send: (hand: Hand) => void;
  /** Resolves once it is plain that it was heeded. */
  heeded: (hand: Hand) => Promise<unknown>;
  outcome: Record<Inside, Outcome>;
}

let stage: Stage;
let staff: string;
let head: Person;
let board: string;
let witness: Coach;
/** Hears of the witness as the others do. */
let onlooker: Coach;
const people = new Map<string, Person>();

const everybody = (outcome: Outcome): Record<Inside, Outcome> => ({
  'head coach': outcome,
  coordinator: outcome,
  'position coach of all': outcome,
  'position coach of the receivers': outcome,
  assistant: outcome,
  'assistant let in': outcome,
});
const editors = { ...everybody('heeded'), assistant: 4409 };
const ownersOnly = { ...editors, 'position coach of the receivers': 4409 };
const never = new Promise<never>(() => undefined);

function updateOf(ydoc: Y.Doc, work: () => void): Uint8Array {
  const parts: Uint8Array[] = [];
  const keep = (part: Uint8Array): number => parts.push(part);
  ydoc.on('update', keep);
  ydoc.transact(work);
  ydoc.off('update', keep);
  return Y.mergeUpdates(parts);
}

let step = 0;
/** Moves somebody of this position. */
const move = ({ ydoc }: Hand, position: string): Uint8Array =>
  updateOf(ydoc, () => {
    const players = ydoc.getMap<{ position: string }>('players');
    const id = [...players].find(([, info]) => info.position === position)?.[0];
    if (id === undefined) throw new Error(`no ${position} on the board`);
    step += 1;
    ydoc.getMap('spots').set(id, [step / 100, -3]);
  });
const rename = ({ ydoc }: Hand): Uint8Array =>
  updateOf(ydoc, () => {
    step += 1;
    ydoc.getMap('meta').set('name', `Sail ${step}`);
  });

const logged = async ({ who }: Hand): Promise<number> =>
  stage.prisma.boardUpdate.count({ where: { boardId: board, memberId: who.memberId } });
const before = new WeakMap<Hand, number>();
/** Asks no longer than he is in: a poll that goes on moves the clock of whichever test stops it next. */
const inLog = (hand: Hand) => {
  const { socket } = hand.raw;
  const wanted = (before.get(hand) ?? 0) + 1;
  const isOut = (): boolean => socket.readyState === socket.CLOSED;
  return expect.poll(() => (isOut() ? wanted : logged(hand)), { timeout: 5000 }).toBe(wanted);
};

const frames = ({ raw }: Hand, kind: number, second?: number): number =>
  raw.frames.filter((bytes) => bytes[0] === kind && (second === undefined || bytes[1] === second))
    .length;
const bare = (kind: number): Uint8Array => {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, kind);
  encoding.writeVarString(encoder, '{}');
  return encoding.toUint8Array(encoder);
};
/** A frame that only the server sends. */
const notAClients = (kind: number): Message => ({
  send: ({ raw }) => raw.send(bare(kind)),
  heeded: () => never,
  outcome: everybody(4400),
});

/** Every message a client could send, by the frame it comes in. A new frame needs its lines here. */
const messages: Record<keyof typeof frame, Record<string, Message>> = {
  sync: {
    'asks what there is': {
      send: (hand) => {
        before.set(hand, frames(hand, frame.sync, 1));
        hand.raw.send(ask());
      },
      heeded: (hand) =>
        until('answered', () => frames(hand, frame.sync, 1) > (before.get(hand) ?? 0)),
      outcome: everybody('heeded'),
    },
    'answers with an edit': {
      send: (hand) => hand.raw.send(answer(move(hand, 'WR'))),
      heeded: inLog,
      outcome: editors,
    },
    'moves a receiver': {
      send: (hand) => hand.raw.send(change(move(hand, 'WR'))),
      heeded: inLog,
      outcome: editors,
    },
    'moves a lineman': {
      send: (hand) => hand.raw.send(change(move(hand, 'C'))),
      heeded: inLog,
      outcome: ownersOnly,
    },
    'renames the play': {
      send: (hand) => hand.raw.send(change(rename(hand))),
      heeded: inLog,
      outcome: ownersOnly,
    },
    'sends an edit that is none': {
      send: (hand) => hand.raw.send(change(Uint8Array.of(9, 9, 9))),
      heeded: () => never,
      outcome: everybody(4409),
    },
  },
  awareness: {
    'shows itself, under another name': {
      send: ({ raw, ydoc }) =>
        raw.send(
          presence([
            { id: ydoc.clientID, clock: 1, state: { member: { id: 'x', name: 'Somebody else' } } },
          ]),
        ),
      heeded: ({ ydoc, who }) =>
        until('seen under his own name', () => {
          const state = witness.provider.awareness.getStates().get(ydoc.clientID);
          return state?.member?.name === who.name;
        }),
      outcome: everybody('heeded'),
    },
    'shows somebody else': {
      send: ({ raw }) => {
        const id = witness.ydoc.clientID;
        const told = onlooker.provider.awareness.meta.get(id)?.clock ?? 0;
        raw.send(presence([{ id, clock: told + 1, state: { cursor: [1, 1] } }]));
      },
      heeded: () => never,
      outcome: everybody(4405),
    },
  },
  queryAwareness: {
    'asks who is here': {
      send: (hand) => {
        before.set(hand, frames(hand, frame.awareness));
        hand.raw.send(Uint8Array.of(frame.queryAwareness));
      },
      heeded: (hand) =>
        until('told', () => frames(hand, frame.awareness) > (before.get(hand) ?? 0)),
      outcome: everybody('heeded'),
    },
  },
  auth: { 'says what the server says': notAClients(frame.auth) },
  hello: { 'says what the server says': notAClients(frame.hello) },
  saved: { 'says what the server says': notAClients(frame.saved) },
  refused: { 'says what the server says': notAClients(frame.refused) },
  findings: { 'says what the server says': notAClients(frame.findings) },
  event: { 'says what the server says': notAClients(frame.event) },
};
const each = Object.entries(messages).flatMap(([kind, ofKind]) =>
  Object.entries(ofKind).map(([what, message]) => ({ kind, what, message })),
);

beforeAll(async () => {
  stage = await openStage();
  staff = await stage.staff();
  head = await stage.person(staff, 'Ada Holm', 'headCoach');
  board = await stage.board(head);
  people.set('head coach', await stage.person(staff, 'Hugo Lind', 'headCoach'));
  people.set('coordinator', await stage.person(staff, 'Cora Beck', 'coordinator'));
  people.set('position coach of all', await stage.person(staff, 'Paul Iver', 'positionCoach'));
  people.set(
    'position coach of the receivers',
    await stage.person(staff, 'Rae Moss', 'positionCoach', 'receivers'),
  );
  people.set('assistant', await stage.person(staff, 'Cem Aydin', 'assistant'));
  const letIn = await stage.person(staff, 'Lena Ott', 'assistant');
  people.set('assistant let in', letIn);
  await stage.prisma.letIn.create({
    data: { boardId: board, memberId: letIn.memberId, by: head.memberId },
  });
  people.set('player', await stage.person(staff, 'Eli Park', 'player'));
  people.set(
    'head coach of another staff',
    await stage.person(await stage.staff('Other staff'), 'Otto Hale', 'headCoach'),
  );
  const expired = await stage.person(staff, 'Edda Sol', 'headCoach');
  people.set('with a session that has run out', expired);
  await stage.prisma.session.updateMany({
    where: { userId: expired.userId },
    data: { expiresAt: new Date(0) },
  });
  const removed = await stage.person(staff, 'Rolf Munk', 'headCoach');
  people.set('removed before', removed);
  await stage.prisma.member.update({
    where: { id: removed.memberId },
    data: { removedAt: new Date() },
  });
  witness = stage.coach(board, head);
  onlooker = stage.coach(board, head);
  await until(
    'the witness is seen',
    () => witness.synced && onlooker.provider.awareness.getStates().has(witness.ydoc.clientID),
  );
});
afterAll(() => stage?.close());

const personOf = (who: string): Person => {
  const person = people.get(who);
  if (!person) throw new Error(`nobody is ${who}`);
  return person;
};

async function enter(who: Person): Promise<Hand> {
  const raw = stage.raw(board, { cookie: who.cookie });
  await raw.opened;
  raw.send(ask());
  raw.send(answer(Uint8Array.of(0, 0)));
  const players = await until('in sync', () => {
    const ydoc = shown(raw.frames);
    return ydoc.getMap('players').size === 11 && ydoc;
  });
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, Y.encodeStateAsUpdate(players));
  const hand = { raw, ydoc, who };
  before.set(hand, await logged(hand));
  return hand;
}

describe('R35 R39 R43 every message of a room by everybody in it', () => {
  it('every frame of the protocol has its lines', () => {
    expect(Object.keys(messages).sort()).toEqual(Object.keys(frame).sort());
  });

  describe.each(each)('$kind: $what', ({ message }) => {
    it.each(inside)('%s', async (role) => {
      const hand = await enter(personOf(role));
      message.send(hand);
      const outcome = await Promise.race([
        message.heeded(hand).then((): Outcome => 'heeded'),
        hand.raw.closed.then(({ code }): Outcome => code),
      ]);
      expect(outcome).toBe(message.outcome[role]);
      hand.raw.socket.terminate();
    });
  });
});

describe('R10 R12 R15 who does not get in is heard by nobody', () => {
  it.each(Object.entries(outside))('%s: %i, whatever he sends', async (who, code) => {
    const log = await stage.prisma.boardUpdate.count({ where: { boardId: board } });
    const kept = await stage.prisma.quarantine.count({ where: { boardId: board } });
    const raw = stage.raw(board, who === 'signed out' ? {} : { cookie: personOf(who).cookie });
    await raw.opened;
    const ydoc = newDocument();
    const hand = { raw, ydoc, who: head };
    raw.send(ask());
    raw.send(change(rename(hand)));
    raw.send(presence([{ id: ydoc.clientID, clock: 1, state: { cursor: [0, 0] } }]));
    for (const kind of Object.values(frame)) raw.send(bare(kind));
    expect((await raw.closed).code).toBe(code);
    expect(raw.frames).toEqual([]);
    expect(await stage.prisma.boardUpdate.count({ where: { boardId: board } })).toBe(log);
    expect(await stage.prisma.quarantine.count({ where: { boardId: board } })).toBe(kept);
    expect(witness.provider.awareness.getStates().has(ydoc.clientID)).toBe(false);
  });
});

describe('R50 R51 who is removed during his session', () => {
  it.each(each.filter(({ message }) => message.outcome.coordinator === 'heeded'))(
    '$kind: $what is not heeded any more',
    async ({ message }) => {
      const person = await stage.person(staff, 'Ben Ruiz', 'coordinator');
      const hand = await enter(person);
      await stage.prisma.member.update({
        where: { id: person.memberId },
        data: { removedAt: new Date() },
      });
      const decided = stage.rooms.accessChanged({ memberId: person.memberId });
      message.send(hand);
      await decided;
      expect((await hand.raw.closed).code).toBe(4406);
      expect(await logged(hand)).toBe(0);
      expect(witness.provider.awareness.getStates().has(hand.ydoc.clientID)).toBe(false);
    },
  );
});

describe('R91 an edit that comes through the API', () => {
  it('is seen by everybody in the room, is a member’s like any other, and is judged like one', async () => {
    const cora = personOf('coordinator');
    const sender = { memberId: cora.memberId, name: cora.name, scope: { kind: 'all' } as const };
    const rename = (ydoc: Y.Doc) => ydoc.getMap('meta').set('name', 'By the other door');
    expect(await stage.rooms.edit(board, sender, rename)).toEqual({ kind: 'made' });
    await until('seen', () => witness.board.snapshot().board.play.name === 'By the other door');
    const last = await stage.prisma.boardUpdate.findFirstOrThrow({
      where: { boardId: board },
      orderBy: { id: 'desc' },
    });
    expect(last.memberId).toBe(cora.memberId);
    expect(await stage.rooms.edit(board, sender, () => undefined)).toEqual({ kind: 'nothing' });
    const readOnly = { ...sender, scope: { kind: 'none' } as const };
    const again = (ydoc: Y.Doc) => ydoc.getMap('meta').set('name', 'Not so');
    expect(await stage.rooms.edit(board, readOnly, again)).toMatchObject({ kind: 'refused' });
    const odd = (ydoc: Y.Doc) => ydoc.getMap('meta').set('name', 7);
    expect(await stage.rooms.edit(board, sender, odd)).toMatchObject({ kind: 'refused' });
    expect(witness.board.snapshot().board.play.name).toBe('By the other door');
    expect(witness.closes).toEqual([]);
  });
});
