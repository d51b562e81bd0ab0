import { Buffer } from 'node:buffer';
import { Redis } from 'ioredis';
import type { Bus, BusListener } from './bus.ts';

const connectPatience = 5_000;
const longestPause = 2_000;

/** Doubling, with jitter: servers that lost the same Redis do not come back to it all at once. */
const pause = (times: number): number =>
  Math.round(Math.min(100 * 2 ** times, longestPause) * (0.5 + Math.random() / 2));

/**
 * Redis as a bus, by publish and subscribe. Nothing is queued while it is away: Postgres has everything,
 * and who comes back asks there. `onTrouble`: said once for each time the connection is lost.
 */
export function redisBus(
  url: string,
  { heard }: BusListener,
  onTrouble: (why: string) => void,
): Bus {
  const options = {
    connectTimeout: connectPatience,
    enableOfflineQueue: false,
    autoResendUnfulfilledCommands: false,
    // Done here, when the connection is ready, so that it is known when it holds.
    autoResubscribe: false,
    maxRetriesPerRequest: 0,
    retryStrategy: pause,
  };
  const speaker = new Redis(url, { ...options, enableAutoPipelining: true });
  const hearer = new Redis(url, options);
  /** Channels wanted, and whom to tell once they are heard. */
  const wanted = new Map<string, (() => void)[]>();
  let isClosed = false;
  let troubled = false;

  for (const client of [speaker, hearer]) {
    client.on('error', (error: Error) => {
      if (!troubled && !isClosed) onTrouble(error.message);
      troubled = true;
    });
  }
  speaker.on('ready', () => {
    troubled = false;
  });
  hearer.on('ready', () => void listen([...wanted.keys()]));
  hearer.on('messageBuffer', (channel: Buffer, payload: Buffer) => {
    heard(channel.toString(), payload);
  });

  async function listen(channels: readonly string[]): Promise<void> {
    if (channels.length === 0 || hearer.status !== 'ready') return;
    try {
      await hearer.subscribe(...channels);
    } catch {
      // The connection broke: all channels are asked for again when it is ready.
      return;
    }
    for (const channel of channels) {
      for (const told of wanted.get(channel)?.splice(0) ?? []) told();
      if (!wanted.has(channel)) forget(channel);
    }
  }

  const forget = (channel: string): void => {
    if (hearer.status === 'ready') hearer.unsubscribe(channel).catch(() => undefined);
  };

  return {
    publish(channel, payload) {
      if (speaker.status !== 'ready') return;
      // What is lost on a line that breaks is read from the store.
      speaker.publish(channel, Buffer.from(payload)).catch(() => undefined);
    },
    subscribe(channel) {
      return new Promise((resolve) => {
        wanted.set(channel, [...(wanted.get(channel) ?? []), resolve]);
        void listen([channel]);
      });
    },
    unsubscribe(channel) {
      wanted.delete(channel);
      forget(channel);
    },
    reconnect() {
      for (const client of [speaker, hearer]) client.disconnect(true);
    },
    async close() {
      isClosed = true;
      // What was published last is on its way before the line is cut.
      if (speaker.status === 'ready') await speaker.quit().catch(() => undefined);
      for (const client of [speaker, hearer]) client.disconnect();
    },
  };
}
