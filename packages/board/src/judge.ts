import { whyNotCovered } from './coverage.ts';
import { type Effect, keysOf } from './effect.ts';
import { type ElementKey, elementKey } from './element-key.ts';
import { type Objection, readOnly, refusal } from './objection.ts';
import { readUpdate } from './read-update.ts';
import { tryUpdate } from './try-update.ts';
import type { Trial, Verdict } from './verdict.ts';

/**
 * May this update in? It is taken whole or refused whole, by what it does to the board, never by
 * what it seems to be. On acceptance the shadow stands on the new state.
 *
 * Throws only if the shadow was left dirty by an earlier refusal.
 */
export function judge(trial: Trial): Verdict {
  const { shadow, update } = trial;
  const read = readUpdate(trial);
  if ('code' in read) return refusal(shadow, 'clean', read);
  const tried = tryUpdate(shadow, update, read.structs, (effect) => outsideScope(effect, trial));
  if ('code' in tried) return refusal(shadow, 'dirty', tried);
  return {
    ok: true,
    changed: keysOf(tried.effect),
    clients: read.writers,
    news: tried.effect.news,
    update: tried.brought,
    projection: tried.projection,
  };
}

function outsideScope(effect: Effect, { scope, shadow }: Trial): Objection | null {
  if (scope.kind === 'none') {
    if (!effect.news) return null;
    return readOnly(keysOf(effect));
  }
  const outside: ElementKey[] = [];
  let first: string | null = null;
  for (const change of effect.values) {
    const why = whyNotCovered(scope, change, shadow);
    if (why === null) continue;
    first ??= why;
    outside.push(elementKey(change.root, change.key));
  }
  if (first === null) return null;
  return {
    code: 'scope',
    why: first,
    mend: 'Ask whoever may change it, or leave a comment there.',
    elements: outside,
  };
}
