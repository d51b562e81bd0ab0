import { playerIdSchema } from '@stemline/football/ids';
import { builtInLooks } from '@stemline/football/shelf';
import type { LiveFinding } from '@stemline/protocol/message';
import { check } from '@stemline/read-rules/check';
import type { Finding } from '@stemline/read-rules/finding';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { card, doubles, h, is, row } from '@stemline/read-rules/testing/cards';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { type Ask, Desk, type Said } from './desk.ts';
import { type BoardFacts, LiveCheck, roomPatienceMs } from './live-check.ts';
import { RuleWorker, type WorkerLike } from './rule-worker.ts';
import { findingOf, type ShownFinding } from './shown-finding.ts';

const looks = builtInLooks.slice(0, 4);
const still = doubles([
  card([row('comes', 'in', is('keyRushes', true)), row('stays', 'out', is('keyRushes', false))]),
]);
/** A man of the line well behind it: six are left on it, and no code allows that. */
const bent: RuledPlay = {
  ...still,
  players: still.players.map((player) =>
    player.id === playerIdSchema.parse('x') ? { ...player, at: [player.at[0], -3] } : player,
  ),
};
const live = (finding: Finding): LiveFinding => ({
  finding,
  openedAt: '2026-09-01T10:00:00.000Z',
  authors: [],
  waived: null,
});
const room = (play: RuledPlay): LiveFinding[] => check(play, looks).map(live);
const told = (shown: readonly ShownFinding[]): string[] =>
  shown.map((each) => `${each.state} ${findingOf(each).id}`).sort();
const ids = (play: RuledPlay, state: string): string[] =>
  check(play, looks)
    .map(({ id }) => `${state} ${id}`)
    .sort();

/** A worker at hand: it answers when it is told to. */
class HeldWorker implements WorkerLike {
  onmessage: WorkerLike['onmessage'] = null;
  onerror: WorkerLike['onerror'] = null;
  readonly asked: Ask[] = [];
  ended = false;
  readonly #desk = new Desk();
  readonly #waiting: Said[] = [];

  postMessage(ask: Ask): void {
    this.asked.push(ask);
    const said = this.#desk.answer(structuredClone(ask));
    if (said) this.#waiting.push(structuredClone(said));
  }
  terminate(): void {
    this.ended = true;
  }
  answer(): void {
    for (const data of this.#waiting.splice(0)) this.onmessage?.({ data } as MessageEvent<Said>);
  }
  get checks(): RuledPlay[] {
    return this.asked.flatMap((ask) => (ask.kind === 'check' ? [ask.play] : []));
  }
}

let worker: HeldWorker;
let own: LiveCheck;
let facts: BoardFacts;
const know = async (change: Partial<BoardFacts>): Promise<void> => {
  facts = { ...facts, ...change };
  own.know(facts);
  await Promise.resolve();
};
const hold = async (play: RuledPlay | null): Promise<void> => {
  own.hold(play, 1);
  await Promise.resolve();
};
const answer = (): void => {
  // What was wished while the worker was at work is asked next.
  worker.answer();
  worker.answer();
};

beforeEach(async () => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
  worker = new HeldWorker();
  own = new LiveCheck(new RuleWorker(worker));
  facts = { play: still, looks, defence: { kind: 'none' }, room: room(still), unsaved: 0 };
  await know({});
  answer();
});
afterEach(() => {
  own.end();
  vi.useRealTimers();
});

describe('the rule check of a page', () => {
  it('shows the room’s findings while no hand is on the play', async () => {
    expect(told(own.state().findings)).toEqual(ids(still, 'stands'));
    await know({ play: bent, room: room(still) });
    answer();
    // Somebody else's edit: the room will say what comes of it.
    expect(told(own.state().findings)).toEqual(ids(still, 'stands'));
  });

  it('shows under the hand what would open and what would close, each once', async () => {
    expect(check(bent, looks).length).toBeGreaterThan(check(still, looks).length);
    await hold(bent);
    answer();
    const seen = told(own.state().findings);
    expect(seen.filter((each) => each.startsWith('opens'))).toHaveLength(1);
    expect(new Set(seen.map((each) => each.split(' ')[1])).size).toBe(seen.length);
    expect(own.state().underHand).toBe(bent);
  });

  it('goes over into the room’s findings without showing the old ones in between', async () => {
    const seen: string[][] = [];
    await hold(bent);
    answer();
    own.subscribe(() => seen.push(told(own.state().findings)));
    const ahead = told(own.state().findings);
    own.hold(null, 2);
    await know({ play: bent, unsaved: 1 });
    answer();
    await know({ unsaved: 0 });
    expect(told(own.state().findings)).toEqual(ahead);
    await know({ room: room(bent) });
    expect(told(own.state().findings)).toEqual(ids(bent, 'stands'));
    for (const each of seen)
      expect(each.some((one) => one.includes('illegalFormation'))).toBe(true);
    expect(seen.at(-1)).toEqual(ids(bent, 'stands'));
  });

  it('is still when a drag was called off', async () => {
    await hold(bent);
    answer();
    await hold(null);
    answer();
    expect(told(own.state().findings)).toEqual(ids(still, 'stands'));
  });

  it('gives the room the last word when the two do not come together', async () => {
    await hold(bent);
    answer();
    own.hold(null, 2);
    await know({ play: bent, unsaved: 1 });
    answer();
    await know({ unsaved: 0 });
    expect(told(own.state().findings)).not.toEqual(ids(still, 'stands'));
    vi.advanceTimersByTime(roomPatienceMs);
    expect(told(own.state().findings)).toEqual(ids(still, 'stands'));
  });

  it('says offline what came of the edits since', async () => {
    await know({ play: bent, unsaved: 3 });
    answer();
    expect(told(own.state().findings).some((each) => each.startsWith('opens'))).toBe(true);
  });

  it('never queues: of many movements it checks the first and the last', async () => {
    const before = worker.checks.length;
    const way = Array.from({ length: 50 }, () => ({ ...bent }));
    for (const play of way) await hold(play);
    answer();
    expect(worker.checks.slice(before)).toEqual([way[0], way[49]]);
  });

  it('reckons in the worker what stands against the play under the hand, and only that', async () => {
    const [look] = looks;
    if (!look) throw new Error('there are looks');
    await know({ defence: { kind: 'shelf', look: look.id, reactions: {} } });
    answer();
    expect(own.state().standing).toBeNull();
    await hold(bent);
    answer();
    expect(own.state().standing?.look.defenders).toHaveLength(11);
    expect(own.state().standing?.answers.has(h)).toBe(true);
    await hold(null);
    expect(own.state().standing).toBeNull();
  });

  it('leaves a finding the same object while it reads the same', async () => {
    await hold(bent);
    answer();
    const before = own.state().findings;
    await hold({ ...bent });
    answer();
    expect(own.state().findings).toBe(before);
  });

  it('leaves the room alone to speak once the worker has failed', async () => {
    await hold(bent);
    answer();
    worker.onerror?.({} as ErrorEvent);
    expect(worker.ended).toBe(true);
    expect(own.state()).toMatchObject({ failed: true, standing: null });
    expect(told(own.state().findings)).toEqual(ids(still, 'stands'));
  });

  it('waits for the staff’s own looks', async () => {
    const before = worker.checks.length;
    await know({ looks: null });
    await hold(bent);
    expect(worker.checks).toHaveLength(before);
    expect(told(own.state().findings)).toEqual(ids(still, 'stands'));
  });
});
