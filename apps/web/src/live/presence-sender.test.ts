import { presencePerSecond } from '@stemline/protocol/limits';
import { describe, expect, it } from 'vitest';
import { Awareness, applyAwarenessUpdate, encodeAwarenessUpdate } from 'y-protocols/awareness';
import * as Y from 'yjs';
import { sendOwnPresence } from './presence-sender.ts';

function fakeClock() {
  let now = 0;
  const waiting = new Map<() => void, number>();
  return {
    now: () => now,
    after(ms: number, fn: () => void) {
      waiting.set(fn, now + ms);
      return () => waiting.delete(fn);
    },
    advance(ms: number) {
      now += ms;
      for (const [fn, at] of [...waiting]) {
        if (at > now) continue;
        waiting.delete(fn);
        fn();
      }
    },
  };
}

function sender() {
  const awareness = new Awareness(new Y.Doc());
  const clock = fakeClock();
  const sent: unknown[] = [];
  const reader = new Awareness(new Y.Doc());
  const stop = sendOwnPresence(
    awareness,
    (update) => {
      applyAwarenessUpdate(reader, update, 'wire');
      sent.push(reader.getStates().get(awareness.clientID));
    },
    clock,
  );
  return { awareness, clock, sent, end: () => [stop(), awareness.destroy(), reader.destroy()] };
}

describe('sending presence', () => {
  it('never sends what others are', () => {
    const { awareness, sent, end } = sender();
    const other = new Awareness(new Y.Doc());
    other.setLocalState({ cursor: [1, 2] });
    applyAwarenessUpdate(awareness, encodeAwarenessUpdate(other, [other.clientID]), 'wire');
    expect(awareness.getStates().size).toBe(2);
    expect(sent).toEqual([]);
    other.destroy();
    end();
  });

  it('sends the first at once and the last of a burst in its time', () => {
    const { awareness, clock, sent, end } = sender();
    for (let i = 0; i < 50; i++) awareness.setLocalState({ cursor: [i, 0] });
    expect(sent).toEqual([{ cursor: [0, 0] }]);
    clock.advance(1000 / presencePerSecond);
    expect(sent).toEqual([{ cursor: [0, 0] }, { cursor: [49, 0] }]);
    end();
  });

  it('keeps below the limit of the room over a long drag', () => {
    const { awareness, clock, sent, end } = sender();
    const seconds = 4;
    for (let ms = 0; ms < seconds * 1000; ms += 8) {
      awareness.setLocalState({ cursor: [ms, 0] });
      clock.advance(8);
    }
    expect(sent.length).toBeGreaterThan(seconds * 5);
    expect(sent.length).toBeLessThanOrEqual(seconds * presencePerSecond + 1);
    end();
  });
});
