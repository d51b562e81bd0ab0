import { newDocument } from '@stemline/board/schema';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import type { Person } from './support/accounts.ts';
import { type Coach, until } from './support/coach.ts';
import { answer, change, presence, type Raw } from './support/raw.ts';
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

/** Every update that a document makes from now on. */
function updatesOf(ydoc: Y.Doc): Uint8Array[] {
  const made: Uint8Array[] = [];
  ydoc.on('update', (update: Uint8Array) => made.push(update));
  return made;
}

/** A page whose frames are sent by hand, and somebody on the board to copy it from. */
async function page(who: Person, from: Coach): Promise<{ raw: Raw; ydoc: Y.Doc }> {
  const raw = stage.raw(board, { cookie: who.cookie });
  await raw.opened;
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, Y.encodeStateAsUpdate(from.ydoc));
  raw.send(answer(Uint8Array.of(0, 0)));
  raw.send(presence([{ id: ydoc.clientID, clock: 1, state: {} }]));
  await until('seen', () => from.provider.awareness.getStates().has(ydoc.clientID));
  return { raw, ydoc };
}

const isAsked = ({ frames }: Raw): number =>
  frames.filter((frame) => frame[0] === 0 && frame[1] === 0).length;

/** A plain provider that tells the other pages of its browser, as it does unless it is told not to. */
function tab(who: Person): Coach {
  const coach = stage.coach(board, who);
  coach.provider.disableBc = false;
  coach.provider.connectBc();
  return coach;
}

describe('R112 pages of one browser tell each other first', () => {
  it('what builds on an edit that the other page never sent is asked for once more, and taken with it', async () => {
    const eye = stage.coach(board, ben);
    await until('synced', () => eye.synced);
    const first = await page(ada, eye);
    const second = await page(ada, eye);
    const made = updatesOf(first.ydoc);
    first.ydoc.getMap('spots').set('H', [-9, -1]);
    for (const update of made) Y.applyUpdate(second.ydoc, update);
    const built = updatesOf(second.ydoc);
    second.ydoc.getMap('spots').set('H', [-8, -1]);
    const asked = isAsked(second.raw);
    for (const update of built) second.raw.send(change(update));
    // With it goes what it would have brought.
    first.raw.socket.close();
    await until('asked', () => isAsked(second.raw) > asked);
    second.raw.send(answer(Y.encodeStateAsUpdate(second.ydoc)));
    await until('there', () => (eye.ydoc.getMap('spots').get('H') as number[])[0] === -8);
    const back = await page(ada, eye);
    for (const update of made) back.raw.send(change(update));
    second.ydoc.getMap('spots').set('X', [-18, -1]);
    second.raw.send(change(built.at(-1) as Uint8Array));
    await until('both', () => (eye.ydoc.getMap('spots').get('X') as number[])[0] === -18);
    expect([back, second].map(({ raw }) => raw.socket.readyState)).toEqual([1, 1]);
  });

  it('who builds on what a colleague never sends, and does not bring it when asked, is refused', async () => {
    const eye = stage.coach(board, ben);
    await until('synced', () => eye.synced);
    const first = await page(ada, eye);
    const second = await page(ben, eye);
    first.ydoc.getMap('spots').set('H', [-9, -1]);
    Y.applyUpdate(second.ydoc, Y.encodeStateAsUpdate(first.ydoc));
    const built = updatesOf(second.ydoc);
    second.ydoc.getMap('spots').set('H', [-8, -1]);
    const asked = isAsked(second.raw);
    for (const update of built) second.raw.send(change(update));
    expect((await second.raw.closed).code).toBe(4409);
    expect(isAsked(second.raw)).toBe(asked + 1);
    expect(eye.ydoc.getMap('spots').get('H')).not.toEqual([-8, -1]);
  });

  it('what a colleague in the same browser is about to bring himself is waited for', async () => {
    const eye = stage.coach(board, ben);
    await until('synced', () => eye.synced);
    const first = await page(ada, eye);
    const second = await page(ben, eye);
    const made = updatesOf(first.ydoc);
    first.ydoc.getMap('spots').set('H', [-9, -1]);
    for (const update of made) Y.applyUpdate(second.ydoc, update);
    second.ydoc.getMap('spots').set('X', [-18, -1]);
    second.raw.send(change(Y.encodeStateAsUpdate(second.ydoc)));
    // Whatever comes by the first page's line, the second one's was read before.
    second.raw.socket.ping();
    await new Promise((resolve) => second.raw.socket.once('pong', resolve));
    for (const update of made) first.raw.send(change(update));
    await until('both', () => (eye.ydoc.getMap('spots').get('X') as number[])[0] === -18);
    expect(eye.ydoc.getMap('spots').get('H')).toEqual([-9, -1]);
  });

  it.each([
    ['the same person’s', () => ada],
    ['a colleague’s of the same browser, when he shows it himself', () => ben],
  ])(
    'R43 what another page shows is no forgery, whoever is heard first: %s',
    async (_whose, other) => {
      const eye = stage.coach(board, ben);
      await until('synced', () => eye.synced);
      const first = await page(ada, eye);
      const second = await page(other(), eye);
      const told = eye.provider.awareness.meta.get(first.ydoc.clientID)?.clock ?? 0;
      const news = presence([{ id: first.ydoc.clientID, clock: told + 1, state: { step: 1 } }]);
      second.raw.send(news);
      second.raw.socket.ping();
      await new Promise((resolve) => second.raw.socket.once('pong', resolve));
      first.raw.send(news);
      await until(
        'shown',
        () => eye.provider.awareness.getStates().get(first.ydoc.clientID)?.step === 1,
      );
      second.raw.send(presence([{ id: second.ydoc.clientID, clock: 2, state: { step: 2 } }]));
      await until(
        'the second one is there',
        () => eye.provider.awareness.getStates().get(second.ydoc.clientID)?.step === 2,
      );
    },
  );

  it.each([
    ['one person', () => [ada, ada, ada, ada]],
    ['two who share a browser', () => [ada, ben, ada, ben]],
  ])('plain providers of %s write by turns, and all of it is saved', async (_name, people) => {
    const tabs = people().map(tab);
    await until('synced', () => tabs.every(({ synced }) => synced));
    for (let step = 0; step < 60; step++) {
      for (const [place, { ydoc, provider }] of tabs.entries()) {
        ydoc.getMap('spots').set('H', [-9 - place, -1 - step / 20]);
        provider.awareness.setLocalStateField('cursor', [step, place]);
      }
      await new Promise((resolve) => setImmediate(resolve));
    }
    await until('saved', () => tabs.every(({ isSaved }) => isSaved), 25_000);
    expect(tabs.flatMap(({ closes, refused }) => [...closes, ...refused])).toEqual([]);
    const { content } = await stage.rooms.freeze(board);
    expect(content.play.players.find(({ id }) => id === 'H')?.at).toEqual(
      tabs[0]?.ydoc.getMap('spots').get('H'),
    );
    for (const coach of tabs) coach.leave();
  });

  /** Each writes on the words of all the others. */
  async function writeByTurns(tabs: readonly Coach[], steps: number): Promise<void> {
    for (let step = 0; step < steps; step++) {
      for (const [place, { ydoc, provider }] of tabs.entries()) {
        ydoc.getMap('spots').set('H', [-9 - place, -1 - step / 20]);
        ydoc.getMap('meta').set('concept', `${place} ${step}`);
        provider.awareness.setLocalStateField('cursor', [step, place]);
        await new Promise((resolve) => setTimeout(resolve, 1));
      }
    }
  }

  async function expectAllSaved(tabs: readonly Coach[]): Promise<void> {
    await until('saved', () => tabs.every(({ isSaved }) => isSaved), 25_000);
    expect(tabs.flatMap(({ closes, refused }) => [...closes, ...refused])).toEqual([]);
    const { content } = await stage.rooms.freeze(board);
    const [{ ydoc }] = tabs as [Coach];
    expect(content.play.players.find(({ id }) => id === 'H')?.at).toEqual(
      ydoc.getMap('spots').get('H'),
    );
    for (const coach of tabs) coach.leave();
  }

  it.each([
    ['at once', 0],
    ['one of them later than the others', 2_000],
  ])(
    'what they told each other while nobody reached the room is all taken when they come back %s',
    async (_when, laterMs) => {
      const tabs = [ada, ben, ada, ben].map(tab);
      await until('synced', () => tabs.every(({ synced }) => synced));
      for (const { provider } of tabs) {
        provider.disconnect();
        provider.connectBc();
      }
      await until('away', () => tabs.every(({ provider }) => !provider.wsconnected));
      for (const { closes } of tabs) closes.length = 0;
      await writeByTurns(tabs, 10);
      const [last, ...others] = tabs as [Coach, ...Coach[]];
      for (const { provider } of others) provider.connect();
      await writeByTurns(tabs, 10);
      await new Promise((resolve) => setTimeout(resolve, laterMs));
      last.provider.connect();
      await writeByTurns(tabs, 10);
      await expectAllSaved(tabs);
    },
    60_000,
  );

  it('who writes before he has the board is known by what he shows, whoever brings his words first', async () => {
    const tabs = [ada, ben, ada, ben].map(tab);
    await writeByTurns(tabs, 40);
    await expectAllSaved(tabs);
  }, 60_000);
});
