import { constants, getPriority, setPriority } from 'node:os';

/**
 * Lets threads (0: the calling one) come after whatever somebody waits for, on Linux alone: elsewhere it would
 * be the whole process. Gives back why it cannot be, where a system forbids it: all is only slower then.
 */
export function giveWay(threads: readonly number[] = [0]): string | null {
  const after = constants.priority.PRIORITY_BELOW_NORMAL;
  // A server that was itself told to give way is never raised.
  if (process.platform !== 'linux' || getPriority() >= after) return null;
  try {
    for (const id of threads) setPriority(id, after);
    return null;
  } catch (error) {
    return (error as Error).message;
  }
}
