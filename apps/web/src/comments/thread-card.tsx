import { Button, Group } from '@mantine/core';
import { useDidUpdate } from '@mantine/hooks';
import type { Thread } from '@stemline/protocol/api/comments';
import { IconCheck, IconMapPin } from '@tabler/icons-react';
import { useRef } from 'react';
import { useReply, useResolve } from '../api/comments.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { useWriting } from '../common/use-kept-words.ts';
import { CommentLine } from './comment-line.tsx';
import classes from './comments.module.css';
import { replyPlace } from './places.ts';
import { WriteBox } from './write-box.tsx';

export function ThreadCard(props: {
  thread: Thread;
  boardId: string;
  /** What it is about, in words; null when that is no longer on the board. */
  about: string | null;
  selected: boolean;
  /** Who reads it. */
  memberId: string;
  mayWrite: boolean;
  mayResolve: boolean;
  onShow: ((anchor: string) => void) | undefined;
}) {
  const { thread } = props;
  const place = replyPlace(thread.id);
  const [replying, setReplying] = useWriting(place);
  const button = useRef<HTMLButtonElement>(null);
  useDidUpdate(() => {
    if (!replying) button.current?.focus();
  }, [replying]);
  const reply = useReply(props.boardId);
  const resolve = useResolve(props.boardId);
  const resolved = thread.resolvedAt !== null;
  const about = props.about ?? 'something no longer on the board';
  return (
    <li className={classes.thread} data-selected={props.selected || undefined}>
      <div className={classes.about}>
        <IconMapPin size={14} aria-hidden />
        {props.onShow !== undefined && props.about !== null && thread.anchor !== '' ? (
          <button
            type="button"
            className={classes.show}
            onClick={() => props.onShow?.(thread.anchor)}
          >
            {about}
          </button>
        ) : (
          <span>{about}</span>
        )}
      </div>
      <ol className={classes.comments}>
        {thread.comments.map((comment) => (
          <CommentLine
            key={comment.id}
            comment={comment}
            boardId={props.boardId}
            mayReword={props.mayWrite && !resolved && comment.memberId === props.memberId}
          />
        ))}
      </ol>
      {resolved && (
        <p className={classes.resolved}>
          <IconCheck size={15} aria-hidden /> Resolved
          {thread.resolvedBy !== null && ` by ${thread.resolvedBy}`}
        </p>
      )}
      <ProblemNotice error={resolve.error} />
      {replying ? (
        <WriteBox
          place={place}
          label="Reply"
          action="Send reply"
          write={reply}
          autoFocus={replying === 'asked'}
          input={(text) => ({ threadId: thread.id, text })}
          onWritten={() => setReplying(false)}
          onCancel={() => setReplying(false)}
        />
      ) : (
        <Group gap="xs">
          {props.mayWrite && !resolved && (
            <Button
              ref={button}
              size="compact-xs"
              variant="subtle"
              onClick={() => setReplying('asked')}
            >
              Reply
            </Button>
          )}
          {props.mayResolve && (
            <Button
              size="compact-xs"
              variant="subtle"
              loading={resolve.isPending}
              onClick={() => resolve.mutate({ threadId: thread.id, resolved: !resolved })}
            >
              {resolved ? 'Reopen' : 'Resolve'}
            </Button>
          )}
        </Group>
      )}
    </li>
  );
}
