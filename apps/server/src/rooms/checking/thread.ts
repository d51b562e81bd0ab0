import { parentPort } from 'node:worker_threads';
import { giveWay } from '../../priority.ts';
import { type Ask, Desk, type Said } from './desk.ts';

// Edits and presence come first. Where the system forbids it the server's own start says so.
giveWay();

const desk = new Desk();

const say = (said: Said): void => parentPort?.postMessage(said);

function check(ask: Ask & { kind: 'check' }): Said {
  const { id } = ask;
  try {
    return { kind: 'checked', id, findings: desk.check(ask) };
  } catch (error) {
    // The room that asked is told; the others' checks go on.
    return { kind: 'failed', id, why: error instanceof Error ? (error.stack ?? '') : `${error}` };
  }
}

parentPort?.on('message', (ask: Ask) => {
  if (ask.kind === 'forget') desk.forget(ask);
  else say(check(ask));
});
say({ kind: 'ready' });
