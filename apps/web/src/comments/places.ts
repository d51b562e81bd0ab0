/** Where words about a play are written; each has its own that are not sent yet. */
export const newThreadPlace = (boardId: string, anchor: string): string =>
  `thread ${boardId} ${anchor}`;
export const replyPlace = (threadId: string): string => `reply ${threadId}`;
export const rewordPlace = (commentId: string): string => `reword ${commentId}`;
