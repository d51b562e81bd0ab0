import type { NoteNode } from '@stemline/board/board-play';
import type { ReactNode } from 'react';
import classes from './notes.module.css';

const tags: Readonly<Record<string, 'strong' | 'em' | 's' | 'u' | 'code'>> = {
  bold: 'strong',
  italic: 'em',
  strike: 's',
  underline: 'u',
  code: 'code',
};

/** A run of text inside its marks, the first outermost; a mark we do not know changes nothing. */
function marked(text: string, marks: NonNullable<NoteNode['marks']>): ReactNode {
  const [mark, ...rest] = marks;
  if (!mark) return text;
  if (mark.type === 'link') {
    const href = mark.attrs?.href;
    // The board's schema lets no other address in; a signed file from elsewhere is held to the same.
    return typeof href === 'string' && /^(?:https?:\/\/|mailto:|tel:)/i.test(href) ? (
      <a href={href} rel="noreferrer noopener">
        {marked(text, rest)}
      </a>
    ) : (
      marked(text, rest)
    );
  }
  const Tag = tags[mark.type];
  return Tag ? <Tag>{marked(text, rest)}</Tag> : marked(text, rest);
}

function Node({ node }: { node: NoteNode }) {
  const inside = <Nodes nodes={node.content ?? []} />;
  switch (node.type) {
    case 'text':
      return marked(node.text ?? '', node.marks ?? []);
    case 'heading':
      return <h3>{inside}</h3>;
    case 'bulletList':
      return <ul>{inside}</ul>;
    case 'orderedList':
      return <ol>{inside}</ol>;
    case 'listItem':
      return <li>{inside}</li>;
    case 'blockquote':
      return <blockquote>{inside}</blockquote>;
    case 'codeBlock':
      return <pre>{inside}</pre>;
    case 'horizontalRule':
      return <hr />;
    case 'hardBreak':
      return <br />;
    default:
      return <p>{inside}</p>;
  }
}

function Nodes({ nodes }: { nodes: readonly NoteNode[] }) {
  return nodes.map((node, index) => (
    // biome-ignore lint/suspicious/noArrayIndexKey: notes that are only read never change order
    <Node key={index} node={node} />
  ));
}

/** Notes to be read, without an editor. */
export function NotesView({ notes }: { notes: readonly NoteNode[] }) {
  return (
    <div className={classes.text}>
      <Nodes nodes={notes} />
    </div>
  );
}
