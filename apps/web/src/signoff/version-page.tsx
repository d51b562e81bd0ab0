import { VisuallyHidden } from '@mantine/core';
import { structureOf } from '@stemline/football/formation';
import type { Board } from '@stemline/protocol/api/boards';
import type { Version } from '@stemline/protocol/api/signoff';
import { may } from '@stemline/protocol/permissions';
import { IconAlertTriangle } from '@tabler/icons-react';
import { PlayView } from '../board/play-view.tsx';
import { ButtonLink } from '../common/links.tsx';
import { Page } from '../common/page.tsx';
import { Time } from '../common/time.tsx';
import { isOutOfTheBook } from './is-out.ts';
import { OutOfTheBook } from './out-of-the-book.tsx';
import classes from './signoff.module.css';

/** A signed-off version whole: who signed it, the drawing, the read cards, the notes. */
export function VersionPage({ version, board }: { version: Version; board: Board | undefined }) {
  if (board !== undefined && isOutOfTheBook(board))
    return <OutOfTheBook name={version.boardName} staffId={board.staffId} />;
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
      {board !== undefined && board.archivedAt !== null && (
        <p className={classes.archived}>
          <IconAlertTriangle size={15} aria-hidden />
          <span>
            Archived <Time at={board.archivedAt} />: it is not in the book, and players don't see
            it.
          </span>
        </p>
      )}
      <VisuallyHidden component="h2">The play as it was signed</VisuallyHidden>
      <PlayView content={version.content} />
    </Page>
  );
}
