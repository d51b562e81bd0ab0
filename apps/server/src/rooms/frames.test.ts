import { maxPresenceEntries } from '@stemline/protocol/limits';
import fc from 'fast-check';
import * as encoding from 'lib0/encoding';
import { describe, expect, it } from 'vitest';
import { Awareness, applyAwarenessUpdate, encodeAwarenessUpdate } from 'y-protocols/awareness';
import { writeSyncStep1, writeSyncStep2, writeUpdate } from 'y-protocols/sync';
import * as Y from 'yjs';
import {
  heartbeatFrame,
  MalformedFrame,
  presenceEntry,
  presenceFrame,
  readFrame,
} from './frames.ts';

const framed = (write: (encoder: encoding.Encoder) => void): Uint8Array => {
  const encoder = encoding.createEncoder();
  write(encoder);
  return new Uint8Array(encoding.toUint8Array(encoder));
};

describe('frames', () => {
  it('reads what y-protocols writes', () => {
    const ydoc = new Y.Doc();
    ydoc.getMap('meta').set('name', 'Lantern');
    const update = Y.encodeStateAsUpdate(ydoc);
    const sync = (write: (encoder: encoding.Encoder) => void) =>
      readFrame(
        framed((encoder) => {
          encoding.writeVarUint(encoder, 0);
          write(encoder);
        }),
      );
    expect(sync((encoder) => writeSyncStep1(encoder, ydoc))).toEqual({
      kind: 'syncRequest',
      stateVector: Y.encodeStateVector(ydoc),
    });
    expect(sync((encoder) => writeSyncStep2(encoder, ydoc))).toEqual({ kind: 'answer', update });
    expect(sync((encoder) => writeUpdate(encoder, update))).toEqual({ kind: 'change', update });
    expect(readFrame(Uint8Array.of(3))).toEqual({ kind: 'presenceRequest' });
  });

  it('R44 reads presence of as many as one may know of, and of no more', () => {
    const presenceOf = (count: number) =>
      readFrame(
        new Uint8Array(presenceFrame(Array.from({ length: count }, () => Uint8Array.of(7, 1, 0)))),
      );
    expect(presenceOf(maxPresenceEntries)).toMatchObject({ kind: 'presence' });
    expect(() => presenceOf(maxPresenceEntries + 1)).toThrow(MalformedFrame);
  });

  it('reads and writes presence as y-protocols does', () => {
    const [one, other] = [new Awareness(new Y.Doc()), new Awareness(new Y.Doc())];
    one.setLocalState({ cursor: [1, 2], name: 'Zoë' });
    const read = readFrame(
      framed((encoder) => {
        encoding.writeVarUint(encoder, 1);
        encoding.writeVarUint8Array(encoder, encodeAwarenessUpdate(one, [one.clientID]));
      }),
    );
    if (read.kind !== 'presence') throw new Error(read.kind);
    const entries = read.entries.map(({ clientId, clock, json }) =>
      presenceEntry(clientId, clock, Buffer.from(json).toString()),
    );
    // Type and length are one byte each for a frame this short.
    applyAwarenessUpdate(other, presenceFrame(entries).subarray(2), null);
    expect(other.getStates().get(one.clientID)).toEqual({ cursor: [1, 2], name: 'Zoë' });
    const before = [...other.getStates()];
    applyAwarenessUpdate(other, heartbeatFrame.subarray(2), null);
    expect([...other.getStates()]).toEqual(before);
    for (const awareness of [one, other]) awareness.destroy();
  });

  it('R39 reads any bytes or says that they are malformed', () => {
    let malformed = 0;
    fc.assert(
      fc.property(
        fc.oneof(
          fc.uint8Array({ maxLength: 200 }),
          fc
            .tuple(
              fc.constantFrom(0, 1, 3, 100, 101),
              fc.constantFrom(0, 1, 2, 9),
              fc.uint8Array({ maxLength: 60 }),
            )
            .map(([type, step, rest]) => Uint8Array.of(type, step, ...rest)),
        ),
        (bytes) => {
          try {
            readFrame(new Uint8Array(bytes));
          } catch (error) {
            expect(error).toBeInstanceOf(MalformedFrame);
            malformed += 1;
          }
        },
      ),
      { numRuns: 2_000 },
    );
    expect(malformed).toBeGreaterThan(100);
  });

  it('never reads beyond a frame: one that shares its buffer with others is not read at all', () => {
    const pool = new Uint8Array(64);
    pool.set([0, 2, 40]);
    expect(() => readFrame(pool.subarray(0, 3))).toThrow(TypeError);
    expect(() => readFrame(pool.slice(0, 3))).toThrow(MalformedFrame);
  });
});
