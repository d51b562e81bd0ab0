import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import type { BoardPlay } from './board-play.ts';
import { inProjectedOrder } from './create.ts';

/**
 * JSON with the names of every object in the order of their UTF-16 units and without blanks, as
 * RFC 8785 (JSON Canonicalization Scheme) has it: the same content is the same text everywhere.
 * Throws on what JSON cannot hold.
 */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (typeof value === 'object' && value !== null) {
    const members = Object.entries(value)
      .filter(([, item]) => item !== undefined)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, item]) => `${JSON.stringify(key)}:${canonicalJson(item)}`);
    return `{${members.join(',')}}`;
  }
  if (typeof value === 'number' && !Number.isFinite(value))
    throw new Error('JSON holds finite numbers only');
  const text = JSON.stringify(value);
  if (text === undefined) throw new Error(`JSON cannot hold a ${typeof value}`);
  return text;
}

/** SHA-256 of a board's content in lower-case hex. Players and cards are a set: their order does not count. */
export function contentHash(board: BoardPlay): string {
  return bytesToHex(sha256(utf8ToBytes(canonicalJson(inProjectedOrder(board)))));
}
