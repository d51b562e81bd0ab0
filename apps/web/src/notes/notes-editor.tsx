import { ActionIcon, Tooltip } from '@mantine/core';
import {
  IconArrowBackUp,
  IconArrowForwardUp,
  IconBold,
  IconH2,
  IconItalic,
  IconList,
  IconListNumbers,
} from '@tabler/icons-react';
import Collaboration from '@tiptap/extension-collaboration';
import { type Editor, EditorContent, useEditor, useEditorState } from '@tiptap/react';
import StarterKit from '@tiptap/starter-kit';
import { useId } from 'react';
import { useRights } from '../board/rights.ts';
import { useBoard, useProjection, useSessionId } from '../live/hooks.ts';
import { Caution } from './caution.tsx';
import classes from './notes.module.css';
import { NotesView } from './notes-view.tsx';

interface NotesTool {
  label: string;
  Icon: typeof IconBold;
  run: (editor: Editor) => boolean;
  active: (editor: Editor) => boolean;
}

const tools: readonly NotesTool[] = [
  {
    label: 'Bold',
    Icon: IconBold,
    run: (editor) => editor.chain().focus().toggleBold().run(),
    active: (editor) => editor.isActive('bold'),
  },
  {
    label: 'Italic',
    Icon: IconItalic,
    run: (editor) => editor.chain().focus().toggleItalic().run(),
    active: (editor) => editor.isActive('italic'),
  },
  {
    label: 'Heading',
    Icon: IconH2,
    run: (editor) => editor.chain().focus().toggleHeading({ level: 2 }).run(),
    active: (editor) => editor.isActive('heading'),
  },
  {
    label: 'List',
    Icon: IconList,
    run: (editor) => editor.chain().focus().toggleBulletList().run(),
    active: (editor) => editor.isActive('bulletList'),
  },
  {
    label: 'Numbered list',
    Icon: IconListNumbers,
    run: (editor) => editor.chain().focus().toggleOrderedList().run(),
    active: (editor) => editor.isActive('orderedList'),
  },
];

function NotesToolbar({ editor }: { editor: Editor }) {
  const active = useEditorState({
    editor,
    selector: (state) => tools.map((tool) => tool.active(state.editor)),
  });
  return (
    <div className={classes.tools} role="toolbar" aria-label="Notes">
      {tools.map(({ label, Icon, run }, i) => (
        <Tooltip key={label} label={label}>
          <ActionIcon
            aria-label={label}
            aria-pressed={active[i] ?? false}
            variant={active[i] ? 'light' : 'subtle'}
            onClick={() => run(editor)}
          >
            <Icon size={17} stroke={1.9} aria-hidden />
          </ActionIcon>
        </Tooltip>
      ))}
      <Tooltip label="Undo in the notes">
        <ActionIcon aria-label="Undo in the notes" onClick={() => editor.commands.undo()}>
          <IconArrowBackUp size={17} stroke={1.9} aria-hidden />
        </ActionIcon>
      </Tooltip>
      <Tooltip label="Redo in the notes">
        <ActionIcon aria-label="Redo in the notes" onClick={() => editor.commands.redo()}>
          <IconArrowForwardUp size={17} stroke={1.9} aria-hidden />
        </ActionIcon>
      </Tooltip>
    </div>
  );
}

function SharedNotes() {
  const board = useBoard();
  const editor = useEditor(
    {
      extensions: [
        // Collaboration brings an undo of its own that leaves others' words alone. Opening the notes
        // must write nothing, so no paragraph is added at their end.
        StarterKit.configure({
          undoRedo: false,
          trailingNode: false,
          link: { openOnClick: false },
        }),
        Collaboration.configure({ fragment: board.notes }),
      ],
      editorProps: {
        attributes: {
          role: 'textbox',
          'aria-multiline': 'true',
          'aria-label': 'Install notes',
          class: classes.text ?? '',
        },
      },
    },
    [board],
  );
  return (
    <div className={classes.notes}>
      {editor && <NotesToolbar editor={editor} />}
      <EditorContent editor={editor} />
    </div>
  );
}

/** Install notes of the play: rich text that all coaches write at once; others read it as it grows. */
export function NotesEditor() {
  const session = useSessionId();
  const headingId = useId();
  const rights = useRights();
  const { notes } = useProjection().board;
  return (
    <section aria-labelledby={headingId}>
      <h2 id={headingId} className={classes.heading}>
        Install notes
      </h2>
      {rights.notes ? (
        <SharedNotes key={session} />
      ) : notes.length > 0 ? (
        <NotesView notes={notes} />
      ) : (
        <p className={classes.none}>No install notes yet.</p>
      )}
      <Caution />
    </section>
  );
}
