import type { QueryClient } from '@tanstack/react-query';
import { useQueryClient } from '@tanstack/react-query';
import { createContext, type ReactNode, useContext, useEffect, useState } from 'react';
import { keys } from '../api/keys.ts';
import { reread } from '../api/reread.ts';
import { openCopy } from './browser-copy.ts';
import { unsavedOf } from './connection.ts';
import { LiveBoard } from './live-board.ts';
import { openRoom } from './room-link.ts';

const LiveContext = createContext<LiveBoard | null>(null);

/** The live board of the page; throws outside a `LiveBoardProvider`. */
export function useLive(): LiveBoard {
  const live = useContext(LiveContext);
  if (!live) throw new Error('A live board is needed here.');
  return live;
}

function rereadOn(live: LiveBoard, queries: QueryClient, boardId: string, staffId: string) {
  return live.onEvent((event) => {
    const read: Record<typeof event.kind, readonly (readonly string[])[]> = {
      comments: [keys.comments(boardId)],
      changes: [keys.changes(boardId), keys.versions(boardId), keys.waiting(staffId)],
      looks: [keys.looks(staffId)],
      access: [keys.board(boardId)],
      // The live board's own state tells these.
      saving: [],
      servers: [],
    };
    for (const queryKey of read[event.kind]) void reread(queries, queryKey);
  });
}

function askBeforeLeaving(live: LiveBoard) {
  const ask = (event: BeforeUnloadEvent): void => {
    if (unsavedOf(live.state().connection) > 0) event.preventDefault();
  };
  window.addEventListener('beforeunload', ask);
  return () => window.removeEventListener('beforeunload', ask);
}

interface LiveBoardProviderProps {
  boardId: string;
  staffId: string;
  memberId: string;
  children: ReactNode;
}

/** Opens the room of a board for everything below it, and leaves it when it goes. */
export function LiveBoardProvider({
  boardId,
  staffId,
  memberId,
  children,
}: LiveBoardProviderProps) {
  const queries = useQueryClient();
  const [live, setLive] = useState<LiveBoard | null>(null);
  useEffect(() => {
    const opened = new LiveBoard({ boardId, memberId, openRoom, openCopy });
    const stopReading = rereadOn(opened, queries, boardId, staffId);
    const stopAsking = askBeforeLeaving(opened);
    setLive(opened);
    return () => {
      stopReading();
      stopAsking();
      opened.end();
      setLive(null);
    };
  }, [boardId, staffId, memberId, queries]);
  return live && <LiveContext value={live}>{children}</LiveContext>;
}
