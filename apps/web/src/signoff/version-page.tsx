import { VisuallyHidden } from '@mantine/core';
import { structureOf } from '@stemline/football/formation';
import type { Board } from '@stemline/protocol/api/boards';
import type { Version } from '@stemline/protocol/api/signoff';
import { may } from '@stemline/protocol/permissions';
import { PlayView } from '../board/play-view.tsx';
import { ButtonLink } from '../common/links.tsx';
import { Page } from '../common/page.tsx';
import { Time } from '../common/time.tsx';

/** A signed-off version whole: who signed it, the drawing, the read cards, the notes. */
export function VersionPage({ version, board }: { version: Version; board: Board | undefined }) {
  const working = board !== undefined && may(board.member.role, 'board.open');
  const { concept } = version.content.play;
  return (
    <Page
      title={version.boardName}
      about={
        <>
          {concept !== '' && <>{concept}, </>}
          {structureOf(version.content.play).name}. Version {version.number}, by {version.author},
          signed off by {version.signer}, <Time at={version.signedAt} />
        </>
      }
      actions={
        working && (
          <ButtonLink to="/boards/$boardId" params={{ boardId: version.boardId }} variant="default">
            Open working board
          </ButtonLink>
        )
      }
    >
      <VisuallyHidden component="h2">The play as it was signed</VisuallyHidden>
      <PlayView content={version.content} />
    </Page>
  );
}
