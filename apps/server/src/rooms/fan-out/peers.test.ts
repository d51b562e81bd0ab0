import { encodeMessage } from '@stemline/protocol/codec';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { type BusMessage, decodeBusMessage, encodeBusMessage } from '../../bus/message.ts';
import { Servers } from '../../bus/servers.ts';
import type { Commit } from '../board-state.ts';
import { FanOut } from './fan-out.ts';
import type { Peers } from './peers.ts';

const beatMs = 500;
const silenceMs = 3_000;
const board = 'the board';
const emptyUpdate = Uint8Array.of(0, 0);

/** Carries to everybody who has subscribed, at once. */
class Wire {
  /** Commits that went over it. */
  commits = 0;
  /** Whose words get lost. */
  mute: Server | null = null;
  readonly #ears = new Set<(channel: string, payload: Uint8Array) => void>();
  readonly #all: Server[] = [];

  server(): Server {
    const channels = new Set<string>();
    const server: Server = new Server(
      new Servers({
        limits: { serverBeatMs: beatMs, serverSilenceMs: silenceMs },
        onStrange: (why) => expect.unreachable(why),
        open: ({ heard }) => {
          this.#ears.add((channel, bytes) => {
            if (channels.has(channel)) heard(channel, bytes);
          });
          return {
            publish: (channel, bytes) => this.#carry(server, channel, bytes),
            subscribe: async (channel) => void channels.add(channel),
            unsubscribe: (channel) => void channels.delete(channel),
            reconnect: () => undefined,
            close: async () => undefined,
          };
        },
      }),
    );
    this.#all.push(server);
    return server;
  }

  async close(): Promise<void> {
    await Promise.all(this.#all.map((server) => server.close()));
  }

  #carry(from: Server, channel: string, bytes: Uint8Array): void {
    if (from === this.mute) return;
    const read = decodeBusMessage(bytes);
    if (read.ok && read.message.kind === 'commit') this.commits += 1;
    for (const hear of this.#ears) hear(channel, bytes);
  }
}

class Server {
  readonly heard: Commit[] = [];
  readonly found: (Uint8Array | null)[] = [];
  /** Whether each that asked for its turn is older. */
  readonly asked: boolean[] = [];
  reads = 0;
  readonly #fanOut: FanOut;
  #peers: Peers | null = null;

  constructor(servers: Servers) {
    this.#fanOut = new FanOut({
      servers,
      store: { revisions: async () => new Map() },
      // Nothing is compared here: what is heard is to be seen.
      limits: { compareMs: 1e9, compareAwayMs: 1e9, hintsAwayMs: 1e9 },
      rooms: () => [],
      accessChanged: () => undefined,
      reviewAccess: async () => undefined,
      turned: () => undefined,
      warn: (what) => expect.unreachable(what),
    });
  }

  open(): void {
    this.#peers = this.#fanOut.connect(board, {
      committed: (commit) => this.heard.push(commit),
      behind: () => {
        this.reads += 1;
      },
      waits: ({ isOlder }) => this.asked.push(isOlder),
      present: () => undefined,
      people: () => true,
      happened: () => undefined,
      found: (frame) => this.found.push(frame),
      asked: () => undefined,
      gone: () => undefined,
      leads: () => undefined,
    });
  }

  /** As if another server had told it. */
  hear(message: BusMessage, payload: Uint8Array): void {
    this.#peers?.hear('a stranger', message, payload);
  }

  wait(): void {
    this.#peers?.waits();
  }

  commit(bytes = emptyUpdate): void {
    this.#peers?.committed({
      base: 1,
      revision: 2,
      last: 3n,
      bytes,
      updates: 1,
      clients: new Map(),
      authors: new Map(),
    });
  }

  close(): Promise<void> {
    this.#peers?.close();
    this.#peers = null;
    return this.#fanOut.close();
  }
}

let wire: Wire;
beforeEach(() => {
  vi.useFakeTimers({
    toFake: ['setTimeout', 'clearTimeout', 'setInterval', 'clearInterval', 'performance'],
  });
  wire = new Wire();
});
afterEach(async () => {
  await wire.close();
  vi.useRealTimers();
});
const later = (ms: number): Promise<unknown> => vi.advanceTimersByTimeAsync(ms);

/** Two servers that hold the board and know of each other. */
async function two(): Promise<[Server, Server]> {
  const pair: [Server, Server] = [wire.server(), wire.server()];
  await later(beatMs);
  for (const server of pair) server.open();
  await later(10_000);
  return pair;
}

describe('R103 what comes over the bus and is none of ours', () => {
  const garbage = Uint8Array.of(9, 9, 9);

  it('is no commit, and the store is read instead', async () => {
    const [a, b] = await two();
    const reads = b.reads;
    a.commit(garbage);
    expect([b.heard.length, b.reads]).toEqual([0, reads + 1]);
    a.commit();
    expect(b.heard).toHaveLength(1);
  });

  it('is no list of findings that a client could be given', async () => {
    const [, b] = await two();
    const findings = encodeMessage({ type: 'findings', findings: [] });
    b.hear({ kind: 'findings', revision: 5 }, garbage);
    b.hear(
      { kind: 'findings', revision: 5 },
      encodeMessage({ type: 'event', event: { kind: 'comments' } }),
    );
    b.hear({ kind: 'findings', revision: 5 }, findings);
    expect(b.found).toEqual([findings]);
  });

  it.each(['not json', '1', 'null', '[]', '{'])('is no presence: %s', (json) => {
    const read = (state: string) =>
      decodeBusMessage(
        encodeBusMessage(
          'a stranger',
          { kind: 'presence', entries: [{ clientId: 1, clock: 1, member: 'm', json: state }] },
          new Uint8Array(),
        ),
      ).ok;
    expect([read(json), read('{"cursor":null}')]).toEqual([false, true]);
  });
});

describe('R111 who asks for its turn', () => {
  it('is heard by the others, of two only the younger as by an older one', async () => {
    const [a, b] = await two();
    a.wait();
    expect([a.asked.length, b.asked.length]).toEqual([0, 1]);
    b.wait();
    expect(a.asked).toHaveLength(1);
    expect(new Set([...a.asked, ...b.asked])).toEqual(new Set([true, false]));
  });
});

describe('R103 a commit is told where somebody may hear it', () => {
  it('to whoever holds the board, and to nobody once it is held alone', async () => {
    const [a, b] = await two();
    a.commit();
    expect(b.heard).toHaveLength(1);
    await b.close();
    a.commit();
    expect(wire.commits).toBe(1);
  });

  it('also before anybody can have answered', async () => {
    const a = wire.server();
    await later(beatMs);
    a.open();
    await later(1_000);
    a.commit();
    expect(wire.commits).toBe(1);
    await later(10_000);
    a.commit();
    expect(wire.commits).toBe(1);
  });

  it('who comes to a board held alone reads it after the other has begun to tell, and hears the next', async () => {
    const a = wire.server();
    const b = wire.server();
    await later(beatMs);
    a.open();
    await later(10_000);
    a.commit();
    b.open();
    await later(1);
    expect(b.reads).toBe(2);
    a.commit();
    expect(b.heard).toHaveLength(1);
  });

  it('one that was only silent is told again, and both read what the other told nobody', async () => {
    const [a, b] = await two();
    wire.mute = b;
    await later(silenceMs + 2 * beatMs);
    const reads = [a.reads, b.reads];
    await later(10_000);
    a.commit();
    expect(b.heard).toHaveLength(0);
    wire.mute = null;
    await later(beatMs);
    expect(a.reads).toBeGreaterThan(reads[0] ?? 0);
    expect(b.reads).toBeGreaterThan(reads[1] ?? 0);
    await later(10_000);
    a.commit();
    expect(b.heard).toHaveLength(1);
  });
});
