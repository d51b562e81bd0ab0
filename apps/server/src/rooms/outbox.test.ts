import { Buffer } from 'node:buffer';
import { once } from 'node:events';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Duplex } from 'node:stream';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { WebSocket, WebSocketServer } from 'ws';
import { Outbox, Outlet } from './outbox.ts';
import { pack, packWithPing } from './packed.ts';

/** A real line: what is written to it is read by a client of ws, which refuses every frame amiss. */
let server: Server;
let client: WebSocket;
let line: Duplex;
let heard: Uint8Array[] = [];

beforeAll(async () => {
  server = createServer();
  const sockets = new WebSocketServer({ noServer: true });
  const lines = new Promise<Duplex>((resolve) => {
    server.on('upgrade', (req, socket, head) =>
      sockets.handleUpgrade(req, socket, head, () => resolve(socket)),
    );
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  client = new WebSocket(`ws://127.0.0.1:${(server.address() as AddressInfo).port}`);
  client.on('message', (data: Buffer) => heard.push(new Uint8Array(data)));
  await once(client, 'open');
  line = await lines;
});
afterAll(() => {
  client?.terminate();
  server?.close();
});

const bytesOf = (length: number): Uint8Array =>
  Uint8Array.from({ length }, (_, i) => (i * 31 + length) % 251);

const asText = (bytes: Uint8Array): string => Buffer.from(bytes).toString('base64');

const turnOver = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

async function heardAll(count: number): Promise<Uint8Array[]> {
  while (heard.length < count) await once(client, 'message');
  const all = heard;
  heard = [];
  return all;
}

/** RFC 6455, 5.2: from these on the length takes two and eight bytes more. */
const bounds = [0, 1, 125, 126, 127, 65_535, 65_536, 65_537];
const length = fc.oneof(fc.nat(400), fc.constantFrom(...bounds));

describe('outbox', () => {
  it('every message is a frame of its own, whole and in order, however many share a turn', async () => {
    const turns = fc.array(fc.array(length, { maxLength: 6 }), { minLength: 1, maxLength: 5 });
    let messages = 0;
    await fc.assert(
      fc.asyncProperty(turns, fc.nat(30), async (all, answerAt) => {
        const outlet = new Outlet(line, new Outbox());
        const said: Uint8Array[] = [];
        for (const turn of all) {
          for (const bytes of turn.map(bytesOf)) {
            if (said.length === answerAt) outlet.writeNow(pack(bytes), () => undefined);
            else outlet.write(pack(bytes));
            said.push(bytes);
          }
          await turnOver();
        }
        messages += said.length;
        // As text: comparing 65,537 elements each by itself takes a minute.
        expect((await heardAll(said.length)).map(asText)).toEqual(said.map(asText));
        expect(outlet.lag - line.writableLength).toBe(0);
      }),
      { numRuns: 60 },
    );
    expect(messages).toBeGreaterThan(60);
  });

  it('a ping goes with a message', async () => {
    const pinged = once(client, 'ping');
    line.write(packWithPing(bytesOf(3)));
    expect(await heardAll(1)).toEqual([bytesOf(3)]);
    await pinged;
  });

  it('what is said at the end of a turn goes out with it, in one write', async () => {
    const outbox = new Outbox();
    const outlets = [new Outlet(line, outbox), new Outlet(line, outbox)];
    const writes: number[] = [];
    const write = line.write.bind(line);
    line.write = (chunk: Buffer, ...rest: never[]): boolean => {
      writes.push(chunk.byteLength);
      return write(chunk, ...rest);
    };
    for (const outlet of outlets) outlet.write(pack(bytesOf(10)));
    outbox.atEndOfTurn(() => {
      for (const outlet of outlets) outlet.write(pack(bytesOf(20)));
    });
    expect(outlets.map(({ lag }) => lag - line.writableLength)).toEqual([12, 12]);
    await heardAll(4);
    Reflect.deleteProperty(line, 'write');
    expect(writes).toEqual([34, 34]);
  });

  it('what must not wait for the end of the turn goes out at once, with all that waits, and once', async () => {
    const outbox = new Outbox();
    const outlet = new Outlet(line, outbox);
    outlet.write(pack(bytesOf(10)));
    outbox.atEndOfTurn(() => outlet.write(pack(bytesOf(20))));
    outbox.flush();
    expect(outlet.lag - line.writableLength).toBe(0);
    outlet.write(pack(bytesOf(30)));
    expect(await heardAll(3)).toEqual([bytesOf(10), bytesOf(20), bytesOf(30)]);
  });

  it('a line that has ended takes nothing, and whoever waits for it is told', async () => {
    const outlet = new Outlet(line, new Outbox());
    line.destroy();
    outlet.write(pack(bytesOf(1)));
    await new Promise<void>((resolve) => outlet.writeNow(pack(bytesOf(1)), resolve));
    expect(outlet.lag - line.writableLength).toBe(0);
  });
});
