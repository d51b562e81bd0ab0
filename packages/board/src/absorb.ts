import * as Y from 'yjs';
import { effectOf } from './effect.ts';
import type { Shadow } from './shadow.ts';

/**
 * Brings a shadow to an update that has passed a gate already: nothing about it is judged. False: it does
 * not stand on what the shadow holds, and the shadow must be rebuilt.
 */
export function absorb(shadow: Shadow, update: Uint8Array): boolean {
  shadow.soil();
  const transaction = shadow.ydoc.transact((running) => {
    Y.applyUpdate(shadow.ydoc, update);
    return running;
  });
  const { pendingStructs, pendingDs } = shadow.ydoc.store;
  if (pendingStructs !== null || pendingDs !== null) return false;
  const effect = effectOf(transaction, shadow);
  shadow.accept(effect.values, effect.notes);
  return true;
}
