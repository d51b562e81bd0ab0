import { once } from 'node:events';
import { Worker } from 'node:worker_threads';
import { ApiProblem } from '../../api/problem.ts';
import { built, mapped } from '../../built.ts';
import type { ArchiveHead, ReadBoard, Said } from './said.ts';

/** An archive that was looked at in every place. Its boards are read once, in order. */
export interface ReadArchive {
  head: ArchiveHead;
  boards: AsyncIterable<ReadBoard>;
}

export interface ReadingLimits {
  /** What the thread may hold, MiB, and how long it may take. */
  maxHeapMb: number;
  patienceMs: number;
}

const usual: ReadingLimits = { maxHeapMb: 768, patienceMs: 60_000 };

/**
 * Reads an archive on a thread of its own, so that neither a large one nor one that is made to be costly
 * holds up the boards that others are on. The bytes are given away. Throws a `malformed` or an `invalid`
 * problem, with the place, where it is none that can be imported; `tooLarge` where reading takes too much.
 */
export async function readArchive<T>(
  bytes: ArrayBuffer,
  use: (archive: ReadArchive) => Promise<T>,
  { maxHeapMb, patienceMs }: ReadingLimits = usual,
): Promise<T> {
  const worker = new Worker(built('archive-thread'), {
    execArgv: [mapped],
    workerData: new Uint8Array(bytes),
    transferList: [bytes],
    resourceLimits: { maxOldGenerationSizeMb: maxHeapMb },
  });
  // It may die while nothing is awaited of it: what is asked next then fails.
  let broken: unknown = null;
  worker.on('error', (error) => {
    broken = error;
  });
  const said = async (): Promise<Said> => {
    const signal = AbortSignal.timeout(patienceMs);
    try {
      if (broken !== null) throw broken;
      const [told] = await once(worker, 'message', { signal });
      return told;
    } catch (error) {
      if (!signal.aborted && !isOutOfMemory(error)) throw error;
      throw new ApiProblem('tooLarge', 'The archive takes more to read than an import may.');
    }
  };
  try {
    const first = await said();
    if (first.kind === 'unfit')
      throw new ApiProblem(first.problem, first.detail, first.where && { where: first.where });
    if (first.kind !== 'head') throw new Error(`the reading thread began with ${first.kind}`);
    return await use({ head: first.head, boards: boardsOf(worker, first.head.boards, said) });
  } finally {
    await worker.terminate();
  }
}

async function* boardsOf(
  worker: Worker,
  count: number,
  said: () => Promise<Said>,
): AsyncIterable<ReadBoard> {
  for (let i = 0; i < count; i++) {
    const answer = said();
    worker.postMessage('next');
    const next = await answer;
    if (next.kind !== 'board') throw new Error(`the reading thread said ${next.kind} for a board`);
    yield next.board;
  }
}

const isOutOfMemory = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && error.code === 'ERR_WORKER_OUT_OF_MEMORY';
