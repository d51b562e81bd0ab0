import { describe, expect, it } from 'vitest';
import { ApiProblem } from '../api/problem.ts';
import { Arriving } from './arriving.ts';

/** A body that is sent part by part. */
function sending() {
  let controller: ReadableStreamDefaultController<Uint8Array> | null = null;
  const body = new ReadableStream<Uint8Array>({
    start: (its) => {
      controller = its;
    },
  });
  const wish = { method: 'POST', body, duplex: 'half' } as const;
  return {
    request: new Request('http://stemline.test/', wish),
    part: async (bytes: number) => {
      controller?.enqueue(new Uint8Array(bytes).fill(7));
      await new Promise((resolve) => setImmediate(resolve));
    },
    end: () => controller?.close(),
  };
}

const kindOf = (work: Promise<unknown>): Promise<unknown> =>
  work.catch((error: unknown) => (error instanceof ApiProblem ? error.kind : error));

describe('archives on their way here', () => {
  it('come whole', async () => {
    const arriving = new Arriving({ maxBytes: 100_000, maxBytesOfAll: 200_000 });
    const sender = sending();
    const length = arriving.receive(sender.request, async (whole) => whole().byteLength);
    await sender.part(60_000);
    await sender.part(40_000);
    sender.end();
    expect(await length).toBe(100_000);
  });

  it('hold so much together, and the largest gives way to others', async () => {
    const arriving = new Arriving({ maxBytes: 100_000, maxBytesOfAll: 150_000 });
    const [large, small, third] = [sending(), sending(), sending()];
    const lengths = [large, small, third].map(({ request }) =>
      kindOf(arriving.receive(request, async (whole) => whole().byteLength)),
    );
    await large.part(90_000);
    await small.part(40_000);
    await third.part(50_000);
    await large.part(1);
    expect(await lengths[0]).toBe('tooMany');
    small.end();
    third.end();
    expect(await Promise.all(lengths.slice(1))).toEqual([40_000, 50_000]);
  });

  it('may give way while they wait for their turn, and hold nothing once it has come', async () => {
    const arriving = new Arriving({ maxBytes: 100_000, maxBytesOfAll: 150_000 });
    const [waits, works, comes] = [sending(), sending(), sending()];
    let turn = () => {};
    const its = new Promise<void>((resolve) => {
      turn = resolve;
    });
    const waiting = kindOf(
      arriving.receive(waits.request, async (whole) => {
        await its;
        return whole().byteLength;
      }),
    );
    const working = kindOf(
      arriving.receive(works.request, async (whole) => {
        const { byteLength } = whole();
        await its;
        return byteLength;
      }),
    );
    for (const [sender, bytes] of [
      [works, 100_000],
      [waits, 80_000],
    ] as const) {
      await sender.part(bytes);
      sender.end();
      await new Promise((resolve) => setImmediate(resolve));
    }
    const coming = kindOf(arriving.receive(comes.request, async (whole) => whole().byteLength));
    await comes.part(75_000);
    comes.end();
    expect(await coming).toBe(75_000);
    turn();
    expect(await Promise.all([waiting, working])).toEqual(['tooMany', 100_000]);
  });

  it('hold more than their bytes where they come byte by byte', async () => {
    const arriving = new Arriving({ maxBytes: 100_000, maxBytesOfAll: 150_000 });
    const sender = sending();
    const read = kindOf(arriving.receive(sender.request, async (whole) => whole().byteLength));
    for (let i = 0; i < 147; i++) await sender.part(1);
    expect(await read).toBe('tooMany');
  });
});
