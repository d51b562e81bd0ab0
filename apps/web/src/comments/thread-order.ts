import type { Thread } from '@stemline/protocol/api/comments';

/**
 * Threads to show: open or resolved, those about the selected element first, then by latest word. One that
 * the reader writes in (`isWrittenIn`) stays with the open ones, though somebody has resolved it meanwhile.
 */
export function threadsToShow(
  threads: readonly Thread[],
  asked: { resolved: boolean; anchor: string; isWrittenIn: (thread: Thread) => boolean },
): readonly Thread[] {
  const first = (thread: Thread): number =>
    asked.anchor !== '' && thread.anchor === asked.anchor ? 0 : 1;
  return threads
    .filter(
      (thread) =>
        (thread.resolvedAt !== null) === asked.resolved ||
        (!asked.resolved && asked.isWrittenIn(thread)),
    )
    .toSorted((a, b) => first(a) - first(b) || latest(b).localeCompare(latest(a)));
}

const latest = (thread: Thread): string => thread.comments.at(-1)?.createdAt ?? thread.createdAt;

export const openThreads = (threads: readonly Thread[]): number =>
  threads.filter((thread) => thread.resolvedAt === null).length;
