import { Gate } from '@stemline/testkit/gate';
import { handPlay } from '@stemline/testkit/plays';
import { coachAt } from '@stemline/testkit/two-coaches';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { createBoardState } from './create.ts';
import type { BoardDocument } from './document.ts';
import type { EditScope } from './edit-scope.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

const state = createBoardState(handPlay(), [
  { type: 'paragraph', content: [{ type: 'text', text: 'Eyes up' }] },
]);
const all: EditScope = { kind: 'all' };
const receivers: EditScope = { kind: 'positions', positions: ['WR', 'TE'] };

/** Pages of one browser, each of a member of its own, which tell each other every edit at once. */
function pages(...members: string[]) {
  const made = members.map((member, at) => ({ member, coach: coachAt(state, 101 + at) }));
  for (const { coach } of made) {
    coach.ydoc.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin === 'told') return;
      for (const other of made)
        if (other.coach !== coach) Y.applyUpdate(other.coach.ydoc, update, 'told');
    });
  }
  return made;
}

/** The pages of a coach and a colleague, and the gate that knows whose they are. */
function twoPages() {
  const [ann, ben] = pages('ann', 'ben');
  if (!ann || !ben) throw new Error('two pages');
  const gate = new Gate(state);
  gate.bind(101, 'ann');
  gate.bind(102, 'ben');
  return { gate, ann: ann.coach, ben: ben.coach };
}

/** What a page answers to a sync. */
const answerOf = ({ ydoc }: BoardDocument): Uint8Array =>
  Y.encodeStateAsUpdate(ydoc, Y.encodeStateVectorFromUpdate(state));

const part = (member: string, coach: BoardDocument, scope: EditScope = all) => ({
  member,
  scope,
  update: answerOf(coach),
});

const spots = ({ ydoc }: BoardDocument) => ydoc.getMap('spots');

/** Each writes on the other's word, twice. */
function byTurns(ann: BoardDocument, ben: BoardDocument, key = 'H'): void {
  spots(ann).set(key, [-7, -1]);
  spots(ben).set(key, [-6, -1]);
  spots(ann).set(key, [-5, -1]);
  spots(ben).set(key, [-4, -1]);
}

describe('what several wrote on each other’s words', () => {
  it('is refused of each alone and taken of all together, each change by whoever made it', () => {
    const { gate, ann, ben } = twoPages();
    byTurns(ann, ben);
    spots(ann).set('X', [-18, -1]);
    for (const [member, coach] of [
      ['ann', ann],
      ['ben', ben],
    ] as const)
      expect(gate.offer(member, answerOf(coach))).toMatchObject({ code: 'foreignClient' });
    const verdict = gate.offerTogether([part('ann', ann), part('ben', ben)]);
    if (!verdict.ok) throw new Error(verdict.why);
    expect(gate.state).toEqual(Y.encodeStateAsUpdate(ann.ydoc));
    expect([...verdict.changed]).toEqual([
      ['spots/H', 'ben'],
      ['spots/X', 'ann'],
    ]);
    expect([...verdict.clients].sort()).toEqual([
      [101, 'ann'],
      [102, 'ben'],
    ]);
  });

  it.each([
    ['builds on', 'H'],
    ['only has too', 'X'],
  ])('waits for what one of them %s and nobody brings himself', (_, key) => {
    const { gate, ann, ben } = twoPages();
    byTurns(ann, ben);
    const before = part('ben', ben);
    spots(ben).set('H', [-3, -1]);
    spots(ann).set(key, [-18, -1]);
    const verdict = gate.offerTogether([part('ann', ann), before]);
    expect(verdict).toMatchObject({ code: 'pending' });
    expect(verdict.ok || [...verdict.awaits.keys()]).toEqual([102]);
    expect(gate.offerTogether([part('ann', ann), part('ben', ben)]).ok).toBe(true);
  });

  it('is refused when one has made up what another wrote', () => {
    const { gate, ann, ben } = twoPages();
    spots(ben).set('H', [-6, -1]);
    spots(ann).set('X', [-18, -1]);
    const forger = coachAt(state, 102);
    forger.ydoc.clientID = 102;
    spots(forger).set('H', [9, -1]);
    forger.ydoc.clientID = 101;
    spots(forger).set('H', [8, -1]);
    const forged = { ...part('ann', forger), update: answerOf(forger) };
    expect(gate.offerTogether([forged, part('ben', ben)])).toMatchObject({ code: 'foreignClient' });
    expect(gate.offerTogether([part('ann', ann), part('ben', ben)]).ok).toBe(true);
  });

  it('is refused when two bring words under one id that is nobody’s yet', () => {
    const [ann, ben] = pages('ann', 'ben');
    if (!ann || !ben) throw new Error('two pages');
    byTurns(ann.coach, ben.coach);
    const parts = [part('ann', ann.coach), part('ben', ben.coach)];
    expect(new Gate(state).offerTogether(parts)).toMatchObject({ code: 'foreignClient' });
  });

  it('is judged change by change by the right of whoever made it', () => {
    const { gate, ann, ben } = twoPages();
    // The left tackle is not his, but what stands there in the end is hers.
    byTurns(ben, ann, 'LT');
    expect(gate.offerTogether([part('ann', ann), part('ben', ben, receivers)]).ok).toBe(true);
    spots(ann).set('H', [-1, -1]);
    spots(ben).set('LT', [-4, -2]);
    const verdict = gate.offerTogether([part('ann', ann), part('ben', ben, receivers)]);
    expect(verdict).toMatchObject({ code: 'scope', elements: ['spots/LT'] });
    expect(gate.shadow.accepted('spots', 'H')).not.toEqual([-1, -1]);
  });

  it('removes only what somebody may remove who says that it is gone', () => {
    const { gate, ann, ben } = twoPages();
    spots(ann).set('H', [-1, -1]);
    spots(ben).delete('LT');
    const before = answerOf(ann);
    expect(
      gate.offerTogether([
        { member: 'ann', scope: receivers, update: before },
        part('ben', ben, receivers),
      ]),
    ).toMatchObject({ code: 'scope', elements: ['spots/LT'] });
    const verdict = gate.offerTogether([part('ann', ann, receivers), part('ben', ben)]);
    if (!verdict.ok) throw new Error(verdict.why);
    expect(verdict.changed.get('spots/LT')).toBe('ben');
  });

  it('is refused of whoever may only read, whatever he brings', () => {
    const { gate, ann, ben } = twoPages();
    byTurns(ann, ben);
    const reader = part('ben', ben, { kind: 'none' });
    expect(gate.offerTogether([part('ann', ann), reader])).toMatchObject({ code: 'readOnly' });
  });

  it('names who wrote the notes', () => {
    const { gate, ann, ben } = twoPages();
    byTurns(ann, ben);
    ben.ydoc.getXmlFragment('notes').insert(0, [new Y.XmlElement('paragraph')]);
    const verdict = gate.offerTogether([part('ann', ann), part('ben', ben)]);
    if (!verdict.ok) throw new Error(verdict.why);
    expect(verdict.changed.get('notes')).toBe('ben');
  });

  it('whatever they wrote, together it is taken and nothing of it is lost', () => {
    const step = fc.record({
      page: fc.nat(3),
      key: fc.constantFrom('H', 'X', 'LT'),
      x: fc.integer({ min: -20, max: 20 }),
    });
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 40 }), (steps) => {
        const made = pages('ann', 'ben', 'ann', 'cat');
        const gate = new Gate(state);
        for (const [at, { member }] of made.entries()) gate.bind(101 + at, member);
        for (const { page, key, x } of steps)
          spots((made[page] as (typeof made)[number]).coach).set(key, [x, -1]);
        const parts = made.map(({ member, coach }) => part(member, coach));
        const verdict = gate.offerTogether(parts);
        if (!verdict.ok) throw new Error(verdict.why);
        const [{ coach }] = made as [(typeof made)[number]];
        expect(gate.state).toEqual(Y.encodeStateAsUpdate(coach.ydoc));
      }),
    );
  });
});
