import { getRouteApi } from '@tanstack/react-router';
import { useBoard } from '../api/boards.ts';
import { useVersion } from '../api/versions.ts';
import { LoadingLines } from '../common/loading.tsx';
import { Page } from '../common/page.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { BoardFrame } from '../frame/board-frame.tsx';
import { VersionPage } from '../signoff/version-page.tsx';

const route = getRouteApi('/inside/versions/$versionId');

/** One signed-off version, as it was signed: to look at, never to edit. */
export function VersionScreen() {
  const { versionId } = route.useParams();
  const version = useVersion(versionId);
  const board = useBoard(version.data?.boardId ?? '', version.isSuccess);
  return (
    <BoardFrame staffId={board.data?.staffId}>
      {version.isSuccess && !board.isPending ? (
        <VersionPage version={version.data} board={board.data} />
      ) : (
        <Page title="Signed-off version">
          {!version.isError && <LoadingLines what="the version" />}
          {version.isError && (
            <ProblemNotice error={version.error} onRetry={() => void version.refetch()} />
          )}
        </Page>
      )}
    </BoardFrame>
  );
}
