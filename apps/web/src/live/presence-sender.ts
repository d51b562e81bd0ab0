import { presencePerSecond } from '@stemline/protocol/limits';
import { type Awareness, encodeAwarenessUpdate } from 'y-protocols/awareness';

interface Clock {
  now(): number;
  /** Runs `fn` once after `ms`; what it returns calls that off. */
  after(ms: number, fn: () => void): () => void;
}
const pageClock: Clock = {
  now: () => performance.now(),
  after: (ms, fn) => {
    const timer = setTimeout(fn, ms);
    return () => clearTimeout(timer);
  },
};

interface AwarenessChange {
  added: number[];
  updated: number[];
  removed: number[];
}

/**
 * Sends this page's own presence and nobody else's, at most `presencePerSecond`; the last state of
 * a burst always goes out. (y-websocket's own sender echoes what it receives: N frames a move in a
 * room of N.) Returns what ends it.
 */
export function sendOwnPresence(
  awareness: Awareness,
  send: (update: Uint8Array) => void,
  clock: Clock = pageClock,
): () => void {
  const gap = 1000 / presencePerSecond;
  let last = Number.NEGATIVE_INFINITY;
  let callOff: (() => void) | null = null;
  const flush = (): void => {
    callOff = null;
    last = clock.now();
    send(encodeAwarenessUpdate(awareness, [awareness.clientID]));
  };
  const changed = ({ added, updated, removed }: AwarenessChange): void => {
    const mine = [...added, ...updated, ...removed].includes(awareness.clientID);
    if (!mine || callOff) return;
    const wait = last + gap - clock.now();
    if (wait <= 0) flush();
    else callOff = clock.after(wait, flush);
  };
  awareness.on('update', changed);
  return () => {
    awareness.off('update', changed);
    callOff?.();
  };
}
