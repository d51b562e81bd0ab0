import { ruledPlaySchema } from '@stemline/read-rules/ruled-play';
import { z } from 'zod';

/** A node of the notes, in ProseMirror's JSON shape. */
export interface NoteNode {
  type: string;
  text?: string | undefined;
  attrs?: Record<string, unknown> | undefined;
  marks?: readonly { type: string; attrs?: Record<string, unknown> | undefined }[] | undefined;
  content?: readonly NoteNode[] | undefined;
}
export const noteNodeSchema: z.ZodType<NoteNode> = z.lazy(() =>
  z.strictObject({
    type: z.string().min(1).max(40),
    text: z.string().max(20_000).optional(),
    attrs: z.record(z.string().max(40), z.unknown()).optional(),
    marks: z
      .array(
        z.strictObject({
          type: z.string().max(40),
          attrs: z.record(z.string(), z.unknown()).optional(),
        }),
      )
      .optional(),
    content: z.array(noteNodeSchema).optional(),
  }),
);

/** Everything a board says, frozen: what is signed off, compared and printed. */
export const boardPlaySchema = z.strictObject({
  play: ruledPlaySchema,
  notes: z.array(noteNodeSchema).readonly(),
});
export type BoardPlay = z.infer<typeof boardPlaySchema>;
