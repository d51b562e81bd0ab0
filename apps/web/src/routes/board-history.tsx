import { getRouteApi } from '@tanstack/react-router';
import { useBoard } from '../api/boards.ts';
import { LoadingLines } from '../common/loading.tsx';
import { Page } from '../common/page.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { BoardFrame } from '../frame/board-frame.tsx';
import { HistoryPage } from '../history/history-page.tsx';

const route = getRouteApi('/inside/boards/$boardId/history');

/** A play as it was at any time, and the way back to it. */
export function BoardHistory() {
  const { boardId } = route.useParams();
  const { time } = route.useSearch();
  const board = useBoard(boardId);
  return (
    <BoardFrame staffId={board.data?.staffId}>
      {board.isSuccess ? (
        <HistoryPage board={board.data} time={time} />
      ) : (
        <Page title="History">
          {board.isPending && <LoadingLines what="the history" />}
          {board.isError && (
            <ProblemNotice error={board.error} onRetry={() => void board.refetch()} />
          )}
        </Page>
      )}
    </BoardFrame>
  );
}
