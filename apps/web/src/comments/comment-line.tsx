import { Button } from '@mantine/core';
import { useDidUpdate } from '@mantine/hooks';
import { modals } from '@mantine/modals';
import type { Comment } from '@stemline/protocol/api/comments';
import { useRef } from 'react';
import { useDeleteComment, useReword } from '../api/comments.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { Time } from '../common/time.tsx';
import { useWriting } from '../common/use-kept-words.ts';
import classes from './comments.module.css';
import { rewordPlace } from './places.ts';
import { WriteBox } from './write-box.tsx';

/** What one person said, and where he may reword it or take it back. */
export function CommentLine(props: { comment: Comment; boardId: string; mayReword: boolean }) {
  const { comment } = props;
  const place = rewordPlace(comment.id);
  const [rewording, setRewording] = useWriting(place);
  const button = useRef<HTMLButtonElement>(null);
  useDidUpdate(() => {
    if (!rewording) button.current?.focus();
  }, [rewording]);
  const reword = useReword(props.boardId);
  const line = useRef<HTMLLIElement>(null);
  const deletion = useDeleteComment(props.boardId);
  const isDeleted = comment.deletedAt !== null;
  useDidUpdate(() => {
    // The button that had the focus is gone.
    if (isDeleted && deletion.isSuccess) line.current?.focus();
  }, [isDeleted]);
  const askWhetherToDelete = () =>
    modals.openConfirmModal({
      title: 'Delete your comment?',
      children: 'The others will see that you deleted one. What was answered stays.',
      labels: { confirm: 'Delete comment', cancel: 'Keep it' },
      confirmProps: { color: 'red' },
      onConfirm: () => deletion.mutate(comment.id),
    });
  return (
    <li ref={line} className={classes.comment} tabIndex={-1}>
      <div className={classes.by}>
        <strong>{comment.name}</strong>
        <span className={classes.when}>
          <Time at={comment.createdAt} />
          {comment.editedAt !== null && !isDeleted && ', edited'}
          {props.mayReword && !isDeleted && !rewording && (
            <>
              <Button
                ref={button}
                size="compact-xs"
                variant="subtle"
                onClick={() => setRewording('asked')}
              >
                Edit
              </Button>
              <Button
                size="compact-xs"
                variant="subtle"
                loading={deletion.isPending}
                onClick={askWhetherToDelete}
              >
                Delete
              </Button>
            </>
          )}
        </span>
      </div>
      <ProblemNotice error={deletion.error} />
      {isDeleted && <p className={classes.why}>Deleted</p>}
      {rewording && !isDeleted && (
        <WriteBox
          place={place}
          label="Your comment"
          action="Save"
          write={reword}
          text={comment.text}
          autoFocus={rewording === 'asked'}
          input={(text) => ({ commentId: comment.id, text })}
          onWritten={() => setRewording(false)}
          onCancel={() => setRewording(false)}
        />
      )}
      {!rewording && !isDeleted && <p className={classes.text}>{comment.text}</p>}
    </li>
  );
}
