import type { FindingKind } from '../finding.ts';

/**
 * A finding's id: what kind, on what, and where in the fact space. The place is long, so it stands
 * there as a hash (cyrb53, public domain: 53 bits, the same on every machine).
 */
export const findingId = (kind: FindingKind, on: readonly string[], place?: string): string =>
  [kind, ...on.slice(0, 3), ...(place === undefined ? [] : [hash(place)])].join('/').slice(0, 200);

export function hash(text: string): string {
  let a = 0xdeadbeef;
  let b = 0x41c6ce57;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    a = Math.imul(a ^ code, 2654435761);
    b = Math.imul(b ^ code, 1597334677);
  }
  a = Math.imul(a ^ (a >>> 16), 2246822507) ^ Math.imul(b ^ (b >>> 13), 3266489909);
  b = Math.imul(b ^ (b >>> 16), 2246822507) ^ Math.imul(a ^ (a >>> 13), 3266489909);
  return (4294967296 * (2097151 & b) + (a >>> 0)).toString(36);
}
