import * as Y from 'yjs';
import type { Mentions } from './mentions.ts';

/** An update without what it brings under these client ids; what it deletes stays as it is. */
export function without(update: Uint8Array, clients: Iterable<number>): Uint8Array {
  const past = new Map([...clients].map((client) => [client, Number.MAX_SAFE_INTEGER]));
  return past.size === 0 ? update : Y.diffUpdate(update, Y.encodeStateVector(past));
}

/** Client ids under which an update goes beyond what is there: so many clocks of each. */
export const writersOf = ({ brings }: Mentions, reached: (client: number) => number): number[] =>
  [...brings].flatMap(([client, runs]) => ((runs.at(-1)?.to ?? 0) > reached(client) ? client : []));
