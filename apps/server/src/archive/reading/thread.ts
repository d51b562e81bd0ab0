import { parentPort, workerData } from 'node:worker_threads';
import { ApiProblem } from '../../api/problem.ts';
import { giveWay } from '../../priority.ts';
import { parseArchive } from './parse.ts';
import type { Said } from './said.ts';

// Edits and presence come first. Where the system forbids it the server's own start says so.
giveWay();

const say = (said: Said): void => parentPort?.postMessage(said);

function tell(error: unknown): void {
  if (!(error instanceof ApiProblem)) throw error;
  const { kind: problem, message: detail } = error;
  say({ kind: 'unfit', problem, detail, where: error.problem.where });
}

function read(): void {
  const { archive, states } = parseArchive(workerData as Uint8Array);
  const { staff, exportedAt, looks, boards } = archive;
  let next = 0;
  parentPort?.on('message', () => {
    const [board, state] = [boards[next], states[next]];
    next += 1;
    if (board && state) say({ kind: 'board', board: { board, state } });
  });
  say({ kind: 'head', head: { staff, exportedAt, looks, boards: boards.length } });
}

try {
  read();
} catch (error) {
  tell(error);
}
