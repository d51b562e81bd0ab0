import { plainText } from '@stemline/football/plain-text';
import { z } from 'zod';

export const commentTextSchema = plainText('A comment', 4000, 'Write something first.');

export const newThreadSchema = z.strictObject({
  /** Element key of what it is about (board/element-key); empty for the whole board. */
  anchor: z.string().max(120),
  text: commentTextSchema,
});
export const newCommentSchema = z.strictObject({ text: commentTextSchema });
export const threadPatchSchema = z.strictObject({ resolved: z.boolean() });

export const commentSchema = z.object({
  id: z.string(),
  memberId: z.string(),
  name: z.string(),
  /** Empty once it is deleted. */
  text: z.string(),
  createdAt: z.iso.datetime(),
  editedAt: z.iso.datetime().nullable(),
  deletedAt: z.iso.datetime().nullable(),
});
export type Comment = z.infer<typeof commentSchema>;
export const threadSchema = z.object({
  id: z.string(),
  anchor: z.string(),
  createdAt: z.iso.datetime(),
  resolvedAt: z.iso.datetime().nullable(),
  resolvedBy: z.string().nullable(),
  comments: z.array(commentSchema),
});
export type Thread = z.infer<typeof threadSchema>;
