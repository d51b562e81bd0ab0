import { may } from '@stemline/protocol/permissions';
import { getRouteApi, Navigate } from '@tanstack/react-router';
import { useBoard } from '../api/boards.ts';
import { LoadingLines } from '../common/loading.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { BoardFrame } from '../frame/board-frame.tsx';
import { BoardPage } from './board-page.tsx';

const route = getRouteApi('/inside/boards/$boardId');

/** The frame, the board's own facts, and the live play board in what is left of the window. */
export function BoardScreen() {
  const { boardId } = route.useParams();
  const { section } = route.useSearch();
  const board = useBoard(boardId);
  return (
    <BoardFrame staffId={board.data?.staffId} fill>
      {board.isPending && (
        <div style={{ padding: '1rem' }}>
          <LoadingLines what="the play board" />
        </div>
      )}
      {board.isError && (
        <div style={{ padding: '1rem' }}>
          <ProblemNotice error={board.error} onRetry={() => void board.refetch()} />
        </div>
      )}
      {board.isSuccess &&
        (may(board.data.member.role, 'board.open') ? (
          <BoardPage key={boardId} boardId={boardId} opensWith={section ?? 'card'} />
        ) : (
          <Navigate to="/boards/$boardId/signed" params={{ boardId }} replace />
        ))}
    </BoardFrame>
  );
}
