import type { BoardDocument } from '@stemline/board/document';
import type { Projection } from '@stemline/board/project';
import type { Hello, LiveFinding } from '@stemline/protocol/message';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { useSyncExternalStore } from 'react';
import type { Connection } from './connection.ts';
import type { LiveState } from './live-board.ts';
import { useLive } from './live-context.tsx';
import type { Colleague } from './presence.ts';

function useLiveState<Part>(part: (state: LiveState) => Part): Part {
  const live = useLive();
  return useSyncExternalStore(live.subscribe, () => part(live.state()));
}

/** The document to write to; another one after a refusal. */
export const useBoard = (): BoardDocument => useLiveState((state) => state.session.document);
/** Changes whenever the document is another one. */
export const useSessionId = (): number => useLiveState((state) => state.session.id);

/** The whole projection, what could not be read included. */
export function useProjection(): Projection {
  const board = useBoard();
  return useSyncExternalStore(
    (listener) => board.subscribe(listener),
    () => board.snapshot(),
  );
}
export const usePlay = (): RuledPlay => useProjection().board.play;

export const useConnection = (): Connection => useLiveState((state) => state.connection);
export const useFindings = (): readonly LiveFinding[] => useLiveState((state) => state.findings);
export const usePresence = (): readonly Colleague[] => useLiveState((state) => state.colleagues);
export const useOthersLate = (): boolean => useLiveState((state) => state.othersLate);
export const useHello = (): Hello | null => useLiveState((state) => state.hello);
export const useRefusedPlay = () => useLiveState((state) => state.refusedPlay);
