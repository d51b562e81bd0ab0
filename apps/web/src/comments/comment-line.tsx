import { Button } from '@mantine/core';
import { useDidUpdate } from '@mantine/hooks';
import type { Comment } from '@stemline/protocol/api/comments';
import { useRef } from 'react';
import { useReword } from '../api/comments.ts';
import { Time } from '../common/time.tsx';
import { useWriting } from '../common/use-kept-words.ts';
import classes from './comments.module.css';
import { rewordPlace } from './places.ts';
import { WriteBox } from './write-box.tsx';

/** What one person said, and where he may reword it. */
export function CommentLine(props: { comment: Comment; boardId: string; mayReword: boolean }) {
  const { comment } = props;
  const place = rewordPlace(comment.id);
  const [rewording, setRewording] = useWriting(place);
  const button = useRef<HTMLButtonElement>(null);
  useDidUpdate(() => {
    if (!rewording) button.current?.focus();
  }, [rewording]);
  const reword = useReword(props.boardId);
  return (
    <li className={classes.comment}>
      <div className={classes.by}>
        <strong>{comment.name}</strong>
        <span className={classes.when}>
          <Time at={comment.createdAt} />
          {comment.editedAt !== null && ', edited'}
          {props.mayReword && !rewording && (
            <Button
              ref={button}
              size="compact-xs"
              variant="subtle"
              onClick={() => setRewording('asked')}
            >
              Edit
            </Button>
          )}
        </span>
      </div>
      {rewording ? (
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
      ) : (
        <p className={classes.text}>{comment.text}</p>
      )}
    </li>
  );
}
