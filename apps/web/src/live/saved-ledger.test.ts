import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { SavedLedger } from './saved-ledger.ts';

function page() {
  const doc = new Y.Doc();
  const ledger = new SavedLedger(doc);
  let change = 0;
  doc.on('update', () => ledger.wrote(++change));
  return { doc, map: doc.getMap('spots'), ledger, vector: () => Y.encodeStateVector(doc) };
}

describe('the saved ledger', () => {
  it('holds an edit until its clock is saved', () => {
    const { map, ledger, vector } = page();
    map.set('h', 1);
    const first = vector();
    map.set('h', 2);
    expect(ledger.unsaved).toBe(2);
    ledger.saved(first, 0);
    expect(ledger.unsaved).toBe(1);
    ledger.saved(vector(), 0);
    expect(ledger.unsaved).toBe(0);
  });

  it('holds a deletion until the change that carried it is saved, though its clock is', () => {
    const { map, ledger, vector } = page();
    map.set('h', 1);
    map.delete('h');
    ledger.saved(vector(), 1);
    expect(ledger.unsaved).toBe(1);
    ledger.saved(vector(), 2);
    expect(ledger.unsaved).toBe(0);
  });

  it('counts again what a lost connection may not have delivered', () => {
    const { doc, ledger, vector } = page();
    doc.getMap('spots').set('h', 1);
    doc.getMap('spots').delete('h');
    ledger.reconnecting();
    ledger.saved(vector(), 9);
    expect(ledger.unsaved).toBe(1);
    ledger.answered(1);
    ledger.saved(vector(), 1);
    expect(ledger.unsaved).toBe(0);
  });

  it('knows what a closed browser still held', () => {
    const before = new Y.Doc();
    before.getMap('spots').set('h', 1);
    const savedThen = Y.encodeStateVector(before);
    before.getMap('spots').set('z', 1);
    const open = (saved: Uint8Array | null) => {
      const doc = new Y.Doc();
      Y.applyUpdate(doc, Y.encodeStateAsUpdate(before));
      const ledger = new SavedLedger(doc);
      ledger.restored(saved);
      return ledger.unsaved;
    };
    expect(open(savedThen)).toBe(1);
    expect(open(null)).toBe(1);
    expect(open(Y.encodeStateVector(before))).toBe(0);
  });

  it('takes what a closed browser held for saved by the answer that carried it, since a deletion has no clock', () => {
    const doc = new Y.Doc();
    doc.getMap('spots').set('h', 1);
    const vector = Y.encodeStateVector(doc);
    const ledger = new SavedLedger(doc);
    ledger.restored(null);
    ledger.answered(1);
    ledger.saved(vector, 0);
    expect([ledger.unsaved, ledger.holdsDeletions]).toEqual([1, true]);
    ledger.saved(vector, 1);
    expect([ledger.unsaved, ledger.holdsDeletions]).toEqual([0, false]);
  });
});
