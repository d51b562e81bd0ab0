import type { NoteNode } from '@stemline/board/board-play';
import fc from 'fast-check';
import { text } from './texts.ts';

type Mark = NonNullable<NoteNode['marks']>[number];

const simpleMarks = ['bold', 'italic', 'strike', 'underline'] as const;
const link: fc.Arbitrary<Mark> = fc
  .constantFrom('https://example.org/install', 'mailto:staff@example.org')
  .map((href) => ({ type: 'link', attrs: { href } }));

const marks: fc.Arbitrary<readonly Mark[]> = fc
  .tuple(fc.option(link), fc.subarray([...simpleMarks]))
  .map(([first, names]) => [
    ...(first === null ? [] : [first]),
    ...names.map((type) => ({ type })),
  ]);

const run: fc.Arbitrary<NoteNode> = fc.tuple(text(20, 1), marks).map(([value, list]) => ({
  type: 'text',
  text: value,
  ...(list.length > 0 ? { marks: list } : {}),
}));
const line: fc.Arbitrary<NoteNode> = fc.constant({ type: 'hardBreak' });

const withContent = (node: NoteNode, content: readonly NoteNode[]): NoteNode =>
  content.length > 0 ? { ...node, content } : node;

/** No two runs of text with the same marks side by side: they would be one. */
function joined(nodes: readonly NoteNode[]): NoteNode[] {
  return nodes.filter(
    (node, i) =>
      node.type !== 'text' ||
      nodes[i - 1]?.type !== 'text' ||
      JSON.stringify(nodes[i - 1]?.marks) !== JSON.stringify(node.marks),
  );
}

const inline = fc
  .array(fc.oneof({ weight: 4, arbitrary: run }, line), { maxLength: 4 })
  .map(joined);
const paragraph = inline.map((content) => withContent({ type: 'paragraph' }, content));
const heading = fc
  .tuple(fc.integer({ min: 1, max: 3 }), inline)
  .map(([level, content]) => withContent({ type: 'heading', attrs: { level } }, content));
const code = fc
  .tuple(fc.option(text(20, 1)), fc.option(fc.constant('text')))
  .map(([value, language]) =>
    withContent(
      { type: 'codeBlock', ...(language === null ? {} : { attrs: { language } }) },
      value === null ? [] : [{ type: 'text', text: value }],
    ),
  );
const rule: fc.Arbitrary<NoteNode> = fc.constant({ type: 'horizontalRule' });

const { block } = fc.letrec<{ block: NoteNode; item: NoteNode }>((tie) => ({
  block: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    paragraph,
    heading,
    code,
    rule,
    fc
      .tuple(fc.boolean(), fc.array(tie('item'), { minLength: 1, maxLength: 3 }))
      .map(([ordered, content]) =>
        ordered
          ? { type: 'orderedList', attrs: { start: 1 }, content }
          : { type: 'bulletList', content },
      ),
    fc
      .array(tie('block'), { minLength: 1, maxLength: 2 })
      .map((content) => ({ type: 'blockquote', content })),
  ),
  item: fc
    .tuple(paragraph, fc.array(tie('block'), { maxLength: 1 }))
    .map(([first, rest]) => ({ type: 'listItem', content: [first, ...rest] })),
}));

/** Notes as the notes editor can write them. */
export const notes = (): fc.Arbitrary<readonly NoteNode[]> => fc.array(block, { maxLength: 5 });
export const noteBlock = (): fc.Arbitrary<NoteNode> => block;
