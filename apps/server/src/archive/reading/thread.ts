import { constants, setPriority } from 'node:os';
import { parentPort, workerData } from 'node:worker_threads';
import { ApiProblem } from '../../api/problem.ts';
import { parseArchive } from './parse.ts';
import type { Said } from './said.ts';

// Edits and presence come first. Linux takes this for the calling thread alone, other systems for all of the process.
if (process.platform === 'linux') setPriority(constants.priority.PRIORITY_BELOW_NORMAL);

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
