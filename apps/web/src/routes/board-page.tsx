import { useDocumentTitle } from '@mantine/hooks';
import { useBoard } from '../api/boards.ts';
import { BoardRoom } from '../board/board-room.tsx';
import { BoardUiProvider } from '../board/board-ui-context.tsx';
import type { SectionId } from '../board/section.ts';
import { LiveBoardProvider } from '../live/live-context.tsx';
import { StandingProvider } from '../looks/standing-context.tsx';
import { RuleCheckProvider } from '../rule-check/rule-check-context.tsx';

/** The live play board of one play, in what its frame leaves of the window. */
export function BoardPage({ boardId, opensWith }: { boardId: string; opensWith: SectionId }) {
  const { data: board } = useBoard(boardId);
  useDocumentTitle(`${board?.name ?? 'Play board'} · Stemline`);
  if (!board) return null;
  return (
    <LiveBoardProvider boardId={boardId} staffId={board.staffId} memberId={board.member.id}>
      <BoardUiProvider>
        <RuleCheckProvider staffId={board.staffId}>
          <StandingProvider>
            <BoardRoom board={board} opensWith={opensWith} />
          </StandingProvider>
        </RuleCheckProvider>
      </BoardUiProvider>
    </LiveBoardProvider>
  );
}
