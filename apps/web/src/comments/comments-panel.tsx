import { SegmentedControl, Stack } from '@mantine/core';
import { may } from '@stemline/protocol/permissions';
import { type Role, roleNames } from '@stemline/protocol/roles';
import { useState } from 'react';
import { useNewThread, useThreads } from '../api/comments.ts';
import { LoadingLines } from '../common/loading.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { useHasKeptWords } from '../common/use-kept-words.ts';
import classes from './comments.module.css';
import { newThreadPlace, replyPlace, rewordPlace } from './places.ts';
import { ThreadCard } from './thread-card.tsx';
import { openThreads, threadsToShow } from './thread-order.ts';
import { WriteBox } from './write-box.tsx';

export interface CommentsPanelProps {
  boardId: string;
  /** Who reads and writes here. */
  member: { id: string; role: Role };
  /** Element key of what is selected on the board (board/element-key); empty for the whole play. */
  anchor: string;
  /** What an element is called on the board; null when it is no longer there. Empty key: the whole play. */
  labelOf: (anchor: string) => string | null;
  /** Select and show an element on the board. */
  onShow?: (anchor: string) => void;
}

/** What people say about a play, each thread tied to what it is about. */
export function CommentsPanel({ boardId, member, anchor, labelOf, onShow }: CommentsPanelProps) {
  const [resolved, setResolved] = useState(false);
  const threads = useThreads(boardId);
  const start = useNewThread(boardId);
  const mayWrite = may(member.role, 'comment.write');
  const about = labelOf(anchor) ?? labelOf('') ?? 'the whole play';
  const all = threads.data ?? [];
  const isUnsent = useHasKeptWords();
  const shown = threadsToShow(all, {
    resolved,
    anchor,
    isWrittenIn: ({ id, comments }) =>
      isUnsent(replyPlace(id)) || comments.some((comment) => isUnsent(rewordPlace(comment.id))),
  });
  const open = openThreads(all);
  return (
    <Stack gap="sm" className={classes.panel ?? ''}>
      {mayWrite ? (
        <WriteBox
          key={anchor}
          place={newThreadPlace(boardId, anchor)}
          label={`Comment on ${about}`}
          action="Comment"
          write={start}
          input={(text) => ({ anchor, text })}
          onWritten={() => setResolved(false)}
        />
      ) : (
        <p className={classes.why}>
          As {roleNames[member.role].toLowerCase()} you can read here but not write. Ask your head
          coach if you should.
        </p>
      )}
      <SegmentedControl
        size="xs"
        aria-label="Which comments"
        value={resolved ? 'resolved' : 'open'}
        onChange={(value) => setResolved(value === 'resolved')}
        data={[
          { value: 'open', label: `Open (${open})` },
          { value: 'resolved', label: `Resolved (${all.length - open})` },
        ]}
      />
      {threads.isPending && <LoadingLines what="the comments" lines={3} />}
      {threads.isError && (
        <ProblemNotice error={threads.error} onRetry={() => void threads.refetch()} />
      )}
      {threads.isSuccess && shown.length === 0 && (
        <p className={classes.why}>
          {resolved
            ? 'No thread is resolved yet.'
            : 'No open comments. Select a player, a route or a row to comment on it.'}
        </p>
      )}
      <ul className={classes.threads} aria-label={resolved ? 'Resolved threads' : 'Open threads'}>
        {shown.map((thread) => (
          <ThreadCard
            key={thread.id}
            thread={thread}
            boardId={boardId}
            about={labelOf(thread.anchor)}
            selected={anchor !== '' && thread.anchor === anchor}
            memberId={member.id}
            mayWrite={mayWrite}
            mayResolve={may(member.role, 'comment.resolve')}
            onShow={onShow}
          />
        ))}
      </ul>
    </Stack>
  );
}
