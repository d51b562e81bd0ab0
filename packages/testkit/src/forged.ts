import fc from 'fast-check';
import * as encoding from 'lib0/encoding';
import * as Y from 'yjs';

/** One item as no editor need write it: contents of a board, links of somebody's choice. */
export interface Forged {
  /** A value under a key of a map, a run of text, or something that is deleted already. */
  readonly content: 'value' | 'text' | 'deleted';
  /** Which key, where it stands in a map. */
  readonly key: number;
  /** Whether it names something on its left, and on its right, and which. */
  readonly left: number | null;
  readonly right: number | null;
  /** Both from where it is to stand, or from anywhere on the board. */
  readonly near: boolean;
  /** Of the forger's client ids. */
  readonly by: number;
}

const place = fc.nat({ max: 1_000 });

/** Items that go out as one update. */
export const forged = (): fc.Arbitrary<readonly Forged[]> =>
  fc.array(
    fc.record({
      content: fc.constantFrom(
        'value' as const,
        'value' as const,
        'text' as const,
        'deleted' as const,
      ),
      key: fc.nat({ max: 1 }),
      left: fc.option(place, { freq: 3 }),
      right: fc.option(place, { freq: 2 }),
      near: fc.boolean(),
      by: fc.nat({ max: 1 }),
    }),
    { minLength: 1, maxLength: 3 },
  );

interface Encoded {
  readonly client: number;
  readonly write: (encoder: encoding.Encoder) => void;
}

/**
 * These items as an update on a document as it stands; `clients`: the forger's ids. Values go to the spots
 * of the first players of the map, text to the first text of the notes.
 */
export function forgedUpdate(
  ydoc: Y.Doc,
  items: readonly Forged[],
  clients: readonly number[],
): Uint8Array {
  const clocks = new Map(clients.map((client) => [client, Y.getState(ydoc.store, client)]));
  const own: Y.ID[] = [];
  const encoded = items.map((item): Encoded => {
    const client = clients[item.by % clients.length] ?? 0;
    const clock = clocks.get(client) ?? 0;
    const { length, write } = encode(ydoc, item, own);
    clocks.set(client, clock + length);
    own.push(Y.createID(client, clock));
    return { client, write };
  });
  const writers = clients.filter((id) => encoded.some(({ client }) => client === id));
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, writers.length);
  for (const client of writers) {
    const its = encoded.filter((one) => one.client === client);
    encoding.writeVarUint(encoder, its.length);
    encoding.writeVarUint(encoder, client);
    encoding.writeVarUint(encoder, Y.getState(ydoc.store, client));
    for (const { write } of its) write(encoder);
  }
  encoding.writeVarUint(encoder, 0);
  return encoding.toUint8Array(encoder);
}

const contentRef = { deleted: 1, text: 4, value: 8 } as const;
const hasLeft = 0b1000_0000;
const hasRight = 0b0100_0000;
const hasKey = 0b0010_0000;

function encode(
  ydoc: Y.Doc,
  { content, key, left, right, near }: Forged,
  own: readonly Y.ID[],
): { length: number; write: (encoder: encoding.Encoder) => void } {
  const spots = ydoc.getMap('spots');
  const text = firstText(ydoc);
  const sub = [...spots._map.keys()].sort()[key] ?? '';
  const inMap = content === 'value' || text === null;
  const there = near ? (inMap ? chain(spots._map.get(sub)) : listed(text)) : everything(ydoc);
  const all = [...there, ...own];
  const pick = (at: number | null): Y.ID | null =>
    at === null ? null : (all[at % Math.max(1, all.length)] ?? null);
  const ids = { left: pick(left), right: pick(right) };
  const write = (encoder: encoding.Encoder): void => {
    const links = (ids.left ? hasLeft : 0) | (ids.right ? hasRight : 0) | (inMap ? hasKey : 0);
    encoding.writeUint8(encoder, contentRef[content] | links);
    for (const id of [ids.left, ids.right]) {
      if (!id) continue;
      encoding.writeVarUint(encoder, id.client);
      encoding.writeVarUint(encoder, id.clock);
    }
    if (!ids.left && !ids.right) {
      const parent = inMap ? null : (text?._item?.id ?? null);
      encoding.writeVarUint(encoder, parent ? 0 : 1);
      if (parent) {
        encoding.writeVarUint(encoder, parent.client);
        encoding.writeVarUint(encoder, parent.clock);
      } else encoding.writeVarString(encoder, 'spots');
      if (inMap) encoding.writeVarString(encoder, sub);
    }
    if (content === 'value') {
      encoding.writeVarUint(encoder, 1);
      encoding.writeAny(encoder, [key, -7]);
    } else if (content === 'text') encoding.writeVarString(encoder, 'ab');
    else encoding.writeVarUint(encoder, 1);
  };
  return { length: content === 'text' ? 2 : 1, write };
}

function firstText(ydoc: Y.Doc): Y.XmlText | null {
  const block = ydoc.getXmlFragment('notes').get(0);
  const text = block instanceof Y.XmlElement ? block.get(0) : null;
  return text instanceof Y.XmlText ? text : null;
}

const lastOf = (item: Y.Item): Y.ID => item.lastId;

/** Every value a key has had, the last first. */
function chain(last: Y.Item | undefined): Y.ID[] {
  const ids: Y.ID[] = [];
  for (let item = last ?? null; item !== null; item = item.left) ids.push(lastOf(item));
  return ids;
}

/** Every single character of a text, and what else stands in it. */
function listed(text: Y.XmlText | null): Y.ID[] {
  const ids: Y.ID[] = [];
  for (let item = text?._start ?? null; item !== null; item = item.right)
    for (let i = 0; i < item.length; i++) ids.push(Y.createID(item.id.client, item.id.clock + i));
  return ids;
}

const everything = (ydoc: Y.Doc): Y.ID[] =>
  [...ydoc.store.clients.values()].flatMap((structs) =>
    structs.flatMap((struct) => (struct instanceof Y.Item ? [lastOf(struct)] : [struct.id])),
  );
