import { roomMessage } from '@stemline/testkit/messages';
import fc from 'fast-check';
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { describe, expect, it, vi } from 'vitest';
import { decodeMessage, encodeMessage } from './codec.ts';
import { frame } from './message.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

/** A frame put together by hand. */
function bytes(
  kind: number,
  write: (encoder: encoding.Encoder) => void = () => undefined,
): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, kind);
  write(encoder);
  return encoding.toUint8Array(encoder);
}
const json = (kind: number, text: string): Uint8Array =>
  bytes(kind, (encoder) => encoding.writeVarString(encoder, text));

describe('codec laws', () => {
  it('what was encoded is decoded as it was', () => {
    const kinds = new Set<string>();
    fc.assert(
      fc.property(roomMessage(), (message) => {
        kinds.add(message.type);
        expect(decodeMessage(encodeMessage(message))).toEqual({ ok: true, message });
      }),
      { numRuns: 300 },
    );
    expect([...kinds].sort()).toEqual(['event', 'findings', 'hello', 'refused', 'saved']);
  });

  it('what was decoded is encoded to the same bytes', () => {
    fc.assert(
      fc.property(roomMessage(), (message) => {
        const sent = encodeMessage(message);
        const decoded = decodeMessage(sent);
        expect(decoded.ok && encodeMessage(decoded.message)).toEqual(sent);
      }),
    );
  });

  it('each kind begins with its number, apart from those of y-protocols', () => {
    fc.assert(
      fc.property(roomMessage(), (message) => {
        expect(decoding.readVarUint(decoding.createDecoder(encodeMessage(message)))).toBe(
          frame[message.type],
        );
      }),
    );
    expect(new Set(Object.values(frame)).size).toBe(Object.keys(frame).length);
  });

  it('a decoded state vector is no window on the frame: the frame may be used again', () => {
    const sent = encodeMessage({ type: 'saved', stateVector: Uint8Array.of(1, 2, 3), updates: 4 });
    const decoded = decodeMessage(sent);
    sent.fill(0);
    expect(decoded).toEqual({
      ok: true,
      message: { type: 'saved', stateVector: Uint8Array.of(1, 2, 3), updates: 4 },
    });
  });
});

describe('hostile frames', () => {
  const event = '{"kind":"comments"}';
  const member = '"member":{"id":"m","name":"n","role":"headCoach","group":"all"}';

  it.each<[string, Uint8Array]>([
    ['nothing', new Uint8Array()],
    ['an endless number', new Uint8Array(20).fill(255)],
    ['a kind and no body', bytes(frame.event)],
    ['a length of 2^53 - 1', bytes(frame.event, (e) => encoding.writeVarUint(e, 2 ** 53 - 1))],
    [
      'a state vector of 2^53 - 1',
      bytes(frame.saved, (e) => encoding.writeVarUint(e, 2 ** 53 - 1)),
    ],
    [
      'a state vector without a count',
      bytes(frame.saved, (e) => encoding.writeVarUint8Array(e, Uint8Array.of(1))),
    ],
    ['bytes after the end', Uint8Array.of(...json(frame.event, event), 0)],
    ['no JSON', json(frame.event, '{')],
    [
      'half a character in UTF-8',
      bytes(frame.event, (e) => encoding.writeVarUint8Array(e, Uint8Array.of(0xed, 0xa0, 0xbd))),
    ],
    ['JSON of another shape', json(frame.event, '[]')],
    ['null', json(frame.event, 'null')],
    ['a number', json(frame.hello, '7')],
    ['an event that there is not', json(frame.event, '{"kind":"fire"}')],
    ['an event with more', json(frame.event, '{"kind":"comments","extra":1}')],
    [
      'an event that names __proto__',
      json(frame.event, '{"kind":"comments","__proto__":{"admin":true}}'),
    ],
    ['an event through its prototype', json(frame.event, '{"__proto__":{"kind":"comments"}}')],
    [
      'a role that there is not',
      json(
        frame.hello,
        `{"documentVersion":1,${member.replace('headCoach', 'owner')},"mayEdit":true,"positions":null}`,
      ),
    ],
    [
      'a version that is no whole number',
      json(frame.hello, `{"documentVersion":1.5,${member},"mayEdit":true,"positions":null}`),
    ],
    ['a refusal without a reason', json(frame.refused, '{"code":"schema"}')],
    ['findings that are no list', json(frame.findings, '{"findings":{}}')],
    ['nesting without end', json(frame.findings, '['.repeat(100_000))],
  ])('%s is malformed', (_, frameBytes) => {
    expect(decodeMessage(frameBytes)).toMatchObject({ ok: false, code: 'malformed' });
  });

  it.each([frame.sync, frame.awareness, frame.auth, frame.queryAwareness, 99, 105, 2 ** 40])(
    'kind %d is left to others',
    (kind) => {
      expect(decodeMessage(bytes(kind))).toMatchObject({ ok: false, code: 'otherKind' });
    },
  );

  it('half a character inside of JSON comes through as it is: JSON escapes it', () => {
    const refused = { code: 'schema' as const, why: 'a \ud83d b', mend: '', elements: [] };
    expect(decodeMessage(encodeMessage({ type: 'refused', refused }))).toEqual({
      ok: true,
      message: { type: 'refused', refused },
    });
  });

  it('every truncation of every message is refused', () => {
    fc.assert(
      fc.property(roomMessage(), fc.double({ min: 0, max: 1, noNaN: true }), (message, part) => {
        const sent = encodeMessage(message);
        const cut = sent.slice(0, Math.floor((sent.length - 1) * part));
        expect(decodeMessage(cut).ok).toBe(false);
      }),
      { numRuns: 300 },
    );
  });

  it('whatever the bytes are, it answers', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.uint8Array({ maxLength: 60 }),
          fc
            .tuple(fc.constantFrom(...Object.values(frame)), fc.json())
            .map(([kind, text]) => json(kind, text)),
          fc.tuple(roomMessage(), fc.nat(), fc.nat({ max: 255 })).map(([message, at, value]) => {
            const sent = encodeMessage(message);
            sent[at % sent.length] = value;
            return sent;
          }),
        ),
        (frameBytes) => {
          const decoded = decodeMessage(frameBytes);
          expect(decoded.ok || decoded.why.length > 0).toBe(true);
        },
      ),
      { numRuns: 500 },
    );
  });
});
