import * as functions from 'lib0/function';
import * as Y from 'yjs';

/**
 * Whether a struct of an update says something else than the board has under its id: two copies of the document
 * write under one client id, or somebody makes up what a colleague wrote. Yjs would take it for known and leave it
 * aside without a word. What is gone, because it was overwritten or deleted, contradicts nothing. `struct`:
 * decoded, not integrated.
 */
export function contradicts(struct: Y.Item | Y.GC, ydoc: Y.Doc): boolean {
  const { client, clock } = struct.id;
  const known = Math.min(clock + struct.length, Y.getState(ydoc.store, client));
  const structs = ydoc.store.clients.get(client);
  if (!(struct instanceof Y.Item) || !structs || clock >= known) return false;
  for (let at = Y.findIndexSS(structs, clock); at < structs.length; at++) {
    const stored = structs[at];
    if (!stored || stored.id.clock >= known) break;
    if (!(stored instanceof Y.Item)) continue;
    if (stored.id.clock === clock && standsElsewhere(struct, stored, ydoc)) return true;
    const from = Math.max(clock, stored.id.clock);
    const to = Math.min(known, stored.id.clock + stored.length);
    if (saysOtherwise(partOf(struct, from, to), partOf(stored, from, to))) return true;
  }
  return false;
}

/** Only what was written beside nothing names its place itself; all else stands where its left neighbour does. */
function standsElsewhere(struct: Y.Item, stored: Y.Item, ydoc: Y.Doc): boolean {
  if (!Y.compareIDs(struct.origin, stored.origin)) return true;
  const parent: unknown = struct.parent;
  if (typeof parent !== 'string') return false;
  return ydoc.share.get(parent) !== stored.parent || struct.parentSub !== stored.parentSub;
}

const nodeOf = ({ type }: Y.ContentType): string =>
  type instanceof Y.XmlElement ? type.nodeName : '';

interface Part {
  content: Y.Item['content'];
  from: number;
  to: number;
}

/** From one clock to another, counted from the item's first. */
const partOf = ({ content, id }: Y.Item, from: number, to: number): Part => ({
  content,
  from: from - id.clock,
  to: to - id.clock,
});

function saysOtherwise(one: Part, other: Part): boolean {
  const [a, b] = [one.content, other.content];
  if (a instanceof Y.ContentDeleted || b instanceof Y.ContentDeleted) return false;
  if (a instanceof Y.ContentType && b instanceof Y.ContentType)
    return a.type.constructor !== b.type.constructor || nodeOf(a) !== nodeOf(b);
  if (a instanceof Y.ContentFormat && b instanceof Y.ContentFormat)
    return a.key !== b.key || !functions.equalityDeep(a.value, b.value);
  if (a instanceof Y.ContentString && b instanceof Y.ContentString)
    return !areSameText(a.str.slice(one.from, one.to), b.str.slice(other.from, other.to));
  if (a.constructor !== b.constructor) return true;
  return !functions.equalityDeep(wordsOf(one), wordsOf(other));
}

/** What Yjs leaves of each half of a letter that takes two, where something was written between them. */
const halfLetter = '\uFFFD';

function areSameText(one: string, other: string): boolean {
  if (one === other) return true;
  const areSame = (letter: string, at: number): boolean =>
    letter === other[at] || letter === halfLetter || other[at] === halfLetter;
  return one.length === other.length && one.split('').every(areSame);
}

/** Cut out of the whole, which may be long: there may be thousands of parts of it. */
function wordsOf({ content, from, to }: Part): unknown {
  if (content instanceof Y.ContentAny || content instanceof Y.ContentJSON)
    return content.arr.slice(from, to);
  return content.getContent();
}
