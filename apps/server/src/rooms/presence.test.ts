import { Buffer } from 'node:buffer';
import * as decoding from 'lib0/decoding';
import { expect, it } from 'vitest';
import type { Connection } from './connection.ts';
import { roomLimits } from './limits.ts';
import type { Outbox } from './outbox.ts';
import type { Packed } from './packed.ts';
import { Presence } from './presence.ts';

const ada = 77;
/** Of a short frame: RFC 6455, 5.2. */
const headBytes = 2;

/** Somebody in the room, as far as presence looks at him. */
function connection(name: string, hear: (frame: Packed) => void = () => undefined): Connection {
  const pass = { member: { id: name, name } };
  return { pass, send: hear, sendPassing: hear } as unknown as Connection;
}

it('R45 R105 who left for another server is seen, though word of his coming there is older than of his leaving', () => {
  const told: { clock: number; state: unknown }[] = [];
  const watcher = connection('Tom', (frame) => told.push(...entriesOf(frame)));
  const here = connection('Ada');
  const due: (() => void)[] = [];
  const presence = new Presence({
    limits: roomLimits,
    outbox: { atEndOfTurn: (act: () => void) => due.push(act) } as unknown as Outbox,
    connections: () => [watcher],
    ownerOf: () => null,
    tellPeers: () => undefined,
    onForged: () => undefined,
  });
  const turn = (): void => {
    for (const act of due.splice(0)) act();
  };
  presence.receive(here, [
    { clientId: ada, clock: 1, json: new Uint8Array(Buffer.from('{"cursor":[1,2]}')) },
  ]);
  turn();
  presence.leave(here);
  turn();
  const left = told.at(-1);
  expect(left?.state).toBeNull();
  presence.hearFrom('the other', [
    { clientId: ada, clock: (left?.clock ?? 0) - 1, member: 'Ada', json: '{"cursor":[3,4]}' },
  ]);
  turn();
  expect(told.at(-1)?.state).toEqual({ cursor: [3, 4] });
  expect(told.at(-1)?.clock).toBeGreaterThan(left?.clock ?? 0);
  presence.close();
});

/** What a frame of presence says of Ada. */
function entriesOf(frame: Packed): { clock: number; state: unknown }[] {
  const decoder = decoding.createDecoder(frame.subarray(headBytes));
  decoding.readVarUint(decoder);
  const body = decoding.createDecoder(decoding.readVarUint8Array(decoder));
  return Array.from({ length: decoding.readVarUint(body) }, () => {
    expect(decoding.readVarUint(body)).toBe(ada);
    return { clock: decoding.readVarUint(body), state: JSON.parse(decoding.readVarString(body)) };
  });
}
