import { Buffer } from 'node:buffer';

declare const packed: unique symbol;
/** A message as it goes over the line: made once, however many it is sent to. */
export type Packed = Buffer & { readonly [packed]: true };

/** RFC 6455, 5.2: FIN with the opcode of a binary message; FIN with that of a ping. */
const binary = 0x82;
const ping = 0x89;
/** Up to here the length stands in the second byte; above it, these say that two or eight bytes follow. */
const maxShort = 125;
const twoBytes = 126;
const eightBytes = 127;

/** One whole binary message in a frame of a server's: neither masked nor compressed. */
export function pack(message: Uint8Array): Packed {
  const { byteLength } = message;
  const head = byteLength <= maxShort ? 2 : byteLength < 65_536 ? 4 : 10;
  const frame = Buffer.allocUnsafe(head + byteLength);
  frame[0] = binary;
  if (head === 2) frame[1] = byteLength;
  else if (head === 4) {
    frame[1] = twoBytes;
    frame.writeUInt16BE(byteLength, 2);
  } else {
    frame[1] = eightBytes;
    frame.writeBigUInt64BE(BigInt(byteLength), 2);
  }
  frame.set(message, head);
  return frame as Packed;
}

/** Asks the other end whether it is there, and says a message with it. */
export const packWithPing = (message: Uint8Array): Packed =>
  Buffer.concat([Buffer.from([ping, 0]), pack(message)]) as Packed;
