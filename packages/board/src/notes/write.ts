import * as Y from 'yjs';
import type { NoteNode } from '../board-play.ts';

/** Writes notes into a fragment, from the given place on, in the shape in which the editor's binding writes them. */
export function writeNotes(
  parent: Y.XmlFragment | Y.XmlElement,
  nodes: readonly NoteNode[],
  at = 0,
): void {
  const written: (Y.XmlElement | Y.XmlText)[] = [];
  let runs: NoteNode[] = [];
  const endText = (): void => {
    if (runs.length > 0) written.push(textOf(runs));
    runs = [];
  };
  for (const node of nodes) {
    if (node.type === 'text') {
      runs.push(node);
    } else {
      endText();
      written.push(elementOf(node));
    }
  }
  endText();
  parent.insert(at, written);
}

function textOf(runs: readonly NoteNode[]): Y.XmlText {
  const text = new Y.XmlText();
  text.applyDelta(
    runs.map((run) => ({
      insert: run.text ?? '',
      attributes: Object.fromEntries(
        (run.marks ?? []).map((mark) => [mark.type, mark.attrs ?? {}]),
      ),
    })),
  );
  return text;
}

function elementOf(node: NoteNode): Y.XmlElement {
  // Yjs types attributes as strings by default; the binding stores numbers as they are.
  const element = new Y.XmlElement<Record<string, unknown> & { [key: string]: never }>(node.type);
  for (const [key, value] of Object.entries(node.attrs ?? {})) {
    if (value !== null && value !== undefined) element.setAttribute(key, value as never);
  }
  writeNotes(element as unknown as Y.XmlElement, node.content ?? []);
  return element as unknown as Y.XmlElement;
}
