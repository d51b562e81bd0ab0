import { notes } from '@stemline/testkit/notes';
import { handPlay } from '@stemline/testkit/plays';
import { getSchema } from '@tiptap/core';
import StarterKit from '@tiptap/starter-kit';
import { prosemirrorJSONToYDoc, yXmlFragmentToProsemirrorJSON } from '@tiptap/y-tiptap';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { type NoteNode, noteNodeSchema } from '../board-play.ts';
import { createBoardState } from '../create.ts';
import { maxNoteDepth, maxNoteNodes, maxNotesLength } from '../limits.ts';
import { boardFromState } from '../migrations.ts';
import { markNames, nodeNames } from './kinds.ts';
import { readNotes } from './read.ts';
import { writeNotes } from './write.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

/** The schema of the notes editor: StarterKit, its own undo off as collaboration asks. */
const schema = getSchema([StarterKit.configure({ undoRedo: false })]);

/** What ProseMirror itself makes of a document: attributes without a value left out, as ours are. */
const plain = (value: unknown): unknown =>
  JSON.parse(
    JSON.stringify(value, (key, item) =>
      item === null || (key === 'attrs' && Object.values(item).every((each) => each === null))
        ? undefined
        : item,
    ),
  );

function written(nodes: readonly NoteNode[]): Y.XmlFragment {
  const fragment = new Y.Doc().getXmlFragment('notes');
  writeNotes(fragment, nodes);
  return fragment;
}

describe('notes against the reference, Tiptap 3 with StarterKit and its Yjs binding', () => {
  it('knows exactly the nodes and marks of StarterKit', () => {
    expect([...nodeNames, 'text'].sort()).toEqual(Object.keys(schema.nodes).sort());
    expect([...markNames].sort()).toEqual(Object.keys(schema.marks).sort());
  });

  it('what the arbitrary calls notes, ProseMirror accepts', () => {
    fc.assert(
      fc.property(
        notes().filter((nodes) => nodes.length > 0),
        (nodes) => {
          schema.nodeFromJSON({ type: 'doc', content: nodes }).check();
        },
      ),
    );
  });

  it('reads what the binding writes', () => {
    fc.assert(
      fc.property(
        notes().filter((nodes) => nodes.length > 0),
        (nodes) => {
          const ydoc = prosemirrorJSONToYDoc(schema, { type: 'doc', content: nodes }, 'notes');
          const expected = nodes.map((node) => plain(schema.nodeFromJSON(node).toJSON()));
          expect(readNotes(ydoc.getXmlFragment('notes'))).toEqual({
            nodes: expected,
            problems: [],
          });
          // And the same after the way over the wire.
          const far = new Y.Doc();
          Y.applyUpdate(far, Y.encodeStateAsUpdate(ydoc));
          expect(readNotes(far.getXmlFragment('notes'))).toEqual({ nodes: expected, problems: [] });
        },
      ),
    );
  });

  it('the binding reads what this writes', () => {
    fc.assert(
      fc.property(notes(), (nodes) => {
        const read = yXmlFragmentToProsemirrorJSON(written(nodes)) as { content: NoteNode[] };
        // The binding gives every mark an attrs object; ProseMirror reads both alike.
        const content = read.content.map((node) => plain(schema.nodeFromJSON(node).toJSON()));
        expect(content).toEqual(nodes.map((node) => plain(schema.nodeFromJSON(node).toJSON())));
      }),
    );
  });

  it('reads what this writes', () => {
    fc.assert(
      fc.property(notes(), (nodes) => {
        expect(readNotes(written(nodes))).toEqual({ nodes, problems: [] });
        for (const node of nodes) expect(noteNodeSchema.safeParse(node).success).toBe(true);
      }),
    );
  });
});

describe('what notes may not hold', () => {
  const fragment = (): Y.XmlFragment => new Y.Doc().getXmlFragment('notes');
  const element = (
    name: string,
    attrs: Record<string, unknown> = {},
    ...content: (Y.XmlElement | Y.XmlText)[]
  ) => {
    const made = new Y.XmlElement(name);
    for (const [key, value] of Object.entries(attrs)) made.setAttribute(key, value as string);
    made.insert(0, content);
    return made;
  };
  const text = (value: string, marks: Record<string, unknown> = {}): Y.XmlText => {
    const made = new Y.XmlText();
    made.applyDelta([{ insert: value, attributes: marks }]);
    return made;
  };
  const nest = (depth: number): Y.XmlElement => {
    let at = element('paragraph');
    for (let i = 0; i < depth; i++) at = element('blockquote', {}, at);
    return at;
  };

  it.each<[string, () => (Y.XmlElement | Y.XmlText)[]]>([
    ['a node that there is not', () => [element('script')]],
    ['a picture', () => [element('image', { src: 'https://example.org' })]],
    ['__proto__ as a node', () => [element('__proto__')]],
    ['text outside of a paragraph', () => [text('loose')]],
    ['a list item without a list', () => [element('listItem')]],
    [
      'a paragraph in a list, without an item',
      () => [element('bulletList', {}, element('paragraph'))],
    ],
    ['an attribute more', () => [element('paragraph', { onclick: 'x' })]],
    ['a heading of level 9', () => [element('heading', { level: 9 })]],
    ['a heading without a level', () => [element('heading')]],
    ['a mark that there is not', () => [element('paragraph', {}, text('x', { blink: {} }))]],
    ['a mark with more', () => [element('paragraph', {}, text('x', { bold: { evil: 1 } }))]],
    [
      'a link to a script',
      () => [element('paragraph', {}, text('x', { link: { href: 'javascript:alert(1)' } }))],
    ],
    [
      'a link to a script behind a line break',
      () => [element('paragraph', {}, text('x', { link: { href: 'java\nscript:alert(1)' } }))],
    ],
    [
      'a link to data',
      () => [element('paragraph', {}, text('x', { link: { href: 'data:text/html,x' } }))],
    ],
    ['nesting without end', () => [nest(maxNoteDepth + 1)]],
    ['too many pieces', () => Array.from({ length: maxNoteNodes + 1 }, () => element('paragraph'))],
    [
      'too long a text',
      () =>
        Array.from({ length: 11 }, () =>
          element('paragraph', {}, text('x'.repeat(maxNotesLength / 10))),
        ),
    ],
    ['one text too long', () => [element('paragraph', {}, text('x'.repeat(20_001)))]],
  ])('%s', (_, content) => {
    const notesOf = fragment();
    notesOf.insert(0, content());
    const { nodes, problems } = readNotes(notesOf);
    expect(problems).not.toEqual([]);
    for (const node of nodes) expect(noteNodeSchema.safeParse(node).success).toBe(true);
  });

  const paragraphWith = (notesOf: Y.XmlFragment): Y.XmlText => {
    const made = text('x');
    notesOf.insert(0, [element('paragraph', {}, made)]);
    return made;
  };

  it.each<[string, (notesOf: Y.XmlFragment) => void]>([
    [
      'a value embedded in a text',
      (notesOf) => paragraphWith(notesOf).insertEmbed(1, { image: 'x' }),
    ],
    [
      'names on a text',
      (notesOf) => paragraphWith(notesOf).setAttribute('contraband', 'x' as never),
    ],
    [
      'a mark that no text follows',
      (notesOf) => {
        const made = paragraphWith(notesOf);
        made.doc?.transact((transaction) => {
          const left = made._start;
          const id = Y.createID(
            transaction.doc.clientID,
            Y.getState(transaction.doc.store, transaction.doc.clientID),
          );
          const hidden = new Y.ContentFormat('contraband', { of: 'any kind' });
          new Y.Item(id, left, left?.lastId ?? null, null, null, made, null, hidden).integrate(
            transaction,
            0,
          );
        });
        expect(JSON.stringify(made.toDelta())).toBe('[{"insert":"x"}]');
      },
    ],
    ['a shared map among the paragraphs', (notesOf) => notesOf.insert(0, [new Y.Map() as never])],
    [
      'a shared type as an attribute',
      (notesOf) => {
        const made = element('codeBlock');
        notesOf.insert(0, [made]);
        made.setAttribute('language', new Y.Text('x') as never);
      },
    ],
  ])('%s', (_, write) => {
    const notesOf = fragment();
    write(notesOf);
    expect(readNotes(notesOf).problems).not.toEqual([]);
  });

  it('an empty list is left alone: two honest deletions may have met', () => {
    const notesOf = fragment();
    notesOf.insert(0, [element('bulletList')]);
    expect(readNotes(notesOf)).toEqual({ nodes: [{ type: 'bulletList' }], problems: [] });
  });

  it('a link to a page, a mailbox and a telephone may stand', () => {
    for (const href of [
      'https://example.org/a?b#c',
      'http://example.org',
      'mailto:a@example.org',
      'tel:+1-555-0100',
    ]) {
      const notesOf = fragment();
      notesOf.insert(0, [
        element(
          'paragraph',
          {},
          text('x', { link: { href, target: '_blank', rel: null, class: null } }),
        ),
      ]);
      expect(readNotes(notesOf).problems).toEqual([]);
    }
  });

  it('no board is made with such notes', () => {
    expect(() => createBoardState(handPlay(), [{ type: 'script' }])).toThrow('notes');
    const opened = boardFromState(createBoardState(handPlay(), [{ type: 'paragraph' }]));
    expect(opened.ok).toBe(true);
  });
});
