import { z } from 'zod';

/**
 * What notes may be made of: the nodes and marks of Tiptap's StarterKit, which the notes editor
 * uses. Kinds of children are fixed, their number is not: two honest deletions may leave a list empty.
 */
const blocks = [
  'paragraph',
  'heading',
  'bulletList',
  'orderedList',
  'blockquote',
  'codeBlock',
  'horizontalRule',
] as const;
const inline = ['text', 'hardBreak'] as const;

interface NodeKind {
  readonly children: readonly string[];
  readonly attrs: z.ZodObject;
}
const noAttrs = z.strictObject({});

const nodeKinds: ReadonlyMap<string, NodeKind> = new Map<string, NodeKind>([
  ['doc', { children: blocks, attrs: noAttrs }],
  ['paragraph', { children: inline, attrs: noAttrs }],
  [
    'heading',
    { children: inline, attrs: z.strictObject({ level: z.number().int().min(1).max(6) }) },
  ],
  ['bulletList', { children: ['listItem'], attrs: noAttrs }],
  [
    'orderedList',
    {
      children: ['listItem'],
      attrs: z.strictObject({
        start: z.number().int().min(0).max(1_000_000).optional(),
        type: z.string().max(10).optional(),
      }),
    },
  ],
  ['listItem', { children: blocks, attrs: noAttrs }],
  ['blockquote', { children: blocks, attrs: noAttrs }],
  [
    'codeBlock',
    { children: ['text'], attrs: z.strictObject({ language: z.string().max(40).optional() }) },
  ],
  ['horizontalRule', { children: [], attrs: noAttrs }],
  ['hardBreak', { children: [], attrs: noAttrs }],
]);

export const nodeNames: readonly string[] = [...nodeKinds.keys()];
export const kindOf = (name: string): NodeKind | undefined => nodeKinds.get(name);

/** A link goes to a page, a mailbox or a telephone; never to a script. */
const linkAddress = z
  .string()
  .max(2000)
  .refine(
    (href) => /^(?:https?:\/\/|mailto:|tel:)/i.test(href.trim()) && !/\p{Cc}/u.test(href),
    'a link must start with http, https, mailto or tel',
  );
const short = z.string().max(200).nullish();

/** Marks in the order in which they are written, so that the same text reads the same everywhere. */
const markKinds: ReadonlyMap<string, z.ZodObject> = new Map<string, z.ZodObject>([
  [
    'link',
    z.strictObject({ href: linkAddress, target: short, rel: short, class: short, title: short }),
  ],
  ['bold', noAttrs],
  ['code', noAttrs],
  ['italic', noAttrs],
  ['strike', noAttrs],
  ['underline', noAttrs],
]);
export const markNames: readonly string[] = [...markKinds.keys()];
export const markAttrs = (name: string): z.ZodObject | undefined => markKinds.get(name);
