import { getRouteApi } from '@tanstack/react-router';
import { ApiProblem } from '../api/api-problem.ts';
import { useBoard } from '../api/boards.ts';
import { useSigned } from '../api/versions.ts';
import { LoadingLines } from '../common/loading.tsx';
import { NothingHere } from '../common/nothing-here.tsx';
import { Page } from '../common/page.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { BoardFrame } from '../frame/board-frame.tsx';
import { isOutOfTheBook } from '../signoff/is-out.ts';
import { OutOfTheBook } from '../signoff/out-of-the-book.tsx';
import { VersionPage } from '../signoff/version-page.tsx';

const route = getRouteApi('/inside/boards/$boardId/signed');

/** The newest signed-off version of a play: what a player learns, never the working board. */
export function SignedPlay() {
  const { boardId } = route.useParams();
  const board = useBoard(boardId);
  const signed = useSigned(boardId);
  if (board.data !== undefined && isOutOfTheBook(board.data)) {
    return (
      <BoardFrame staffId={board.data.staffId}>
        <OutOfTheBook name={board.data.name} staffId={board.data.staffId} />
      </BoardFrame>
    );
  }
  // Whether it is still in the book is known with the board: nothing is shown that may be out of it.
  if (signed.isSuccess && !board.isPending) {
    return (
      <BoardFrame staffId={board.data?.staffId}>
        <VersionPage version={signed.data} board={board.data} />
      </BoardFrame>
    );
  }
  const never =
    !board.isPending && signed.error instanceof ApiProblem && signed.error.status === 404;
  return (
    <BoardFrame staffId={board.data?.staffId}>
      <Page title={board.data?.name ?? 'Signed-off play'}>
        {(!signed.isError || board.isPending) && <LoadingLines what="the play" />}
        {never && (
          <NothingHere title="Not signed off yet">
            This play appears here as soon as the head coach has signed it off.
          </NothingHere>
        )}
        {signed.isError && !board.isPending && !never && (
          <ProblemNotice error={signed.error} onRetry={() => void signed.refetch()} />
        )}
      </Page>
    </BoardFrame>
  );
}
