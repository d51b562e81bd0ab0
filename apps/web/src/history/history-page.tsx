import type { Board } from '@stemline/protocol/api/boards';
import { useHistory, usePast } from '../api/history.ts';
import { PlayView } from '../board/play-view.tsx';
import { ButtonLink } from '../common/links.tsx';
import { LoadingLines } from '../common/loading.tsx';
import { Page } from '../common/page.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { longWhen } from '../common/when.ts';
import classes from './history.module.css';
import { keptInWords } from './kept-words.ts';
import { MomentField } from './moment-field.tsx';
import { PastBar } from './past-bar.tsx';
import { SittingList } from './sitting-list.tsx';
import { SittingTold } from './sitting-told.tsx';

/** When a play was edited, and the play as it was then. Without a time: as the newest sitting left it. */
export function HistoryPage({ board, time }: { board: Board; time: string | undefined }) {
  const history = useHistory(board.id, true);
  const shown = time ?? history.data?.[0]?.to;
  const past = usePast(board.id, shown);
  return (
    <Page
      title={`History of ${board.name}`}
      actions={
        <ButtonLink to="/boards/$boardId" params={{ boardId: board.id }} variant="default">
          Open working board
        </ButtonLink>
      }
    >
      <div className={classes.page}>
        <section className={classes.times} aria-label="Stretches of edits">
          <MomentField boardId={board.id} time={shown} />
          {history.isPending && <LoadingLines what="the history" lines={4} />}
          {history.isError && (
            <ProblemNotice error={history.error} onRetry={() => void history.refetch()} />
          )}
          {history.isSuccess && (
            <SittingList boardId={board.id} sittings={history.data} shown={shown} />
          )}
          <p className={classes.small}>{keptInWords}</p>
        </section>
        <section className={classes.past} aria-label="The play as it was">
          {shown !== undefined && past.isPending && <LoadingLines what="the play as it was" />}
          {past.isError && <ProblemNotice error={past.error} onRetry={() => void past.refetch()} />}
          {past.isSuccess && (
            <>
              <h2 className={classes.when}>As it was on {longWhen(past.data.time)}</h2>
              <SittingTold sitting={past.data.sitting} />
              <PastBar board={board} past={past.data} />
              <PlayView content={past.data.content} />
            </>
          )}
        </section>
      </div>
    </Page>
  );
}
