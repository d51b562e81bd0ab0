import * as Y from 'yjs';
import type { NoteNode } from '../board-play.ts';
import { isFitText, whyNotJson } from '../json.ts';
import { maxNoteDepth, maxNoteNodes, maxNotesLength, maxNoteTextLength } from '../limits.ts';
import { kindOf, markAttrs, markNames } from './kinds.ts';

export interface ReadNotes {
  readonly nodes: readonly NoteNode[];
  /** What could not be read, or is too much; empty for notes as the editor writes them. */
  readonly problems: readonly string[];
}

type Attrs = Record<string, unknown>;
interface Reading {
  readonly problems: Set<string>;
  length: number;
  count: number;
}

/**
 * The notes as ProseMirror's JSON. It looks at every stored item instead of asking the shared types
 * for their text, so that nothing can lie in the notes which no editor shows.
 */
export function readNotes(fragment: Y.XmlFragment): ReadNotes {
  const reading: Reading = { problems: new Set(), length: 0, count: 0 };
  if (livingKeys(fragment).length > 0) reading.problems.add('the notes carry names of their own');
  const nodes = readChildren(fragment, 'doc', 0, reading);
  return { nodes, problems: [...reading.problems] };
}

/** What every shared type keeps: a list of items, and items by name. */
type Stored = Pick<Y.AbstractType<never>, '_start' | '_map'>;

function* livingItems(type: Stored): Generator<Y.Item> {
  for (let item = type._start; item !== null; item = item.right) if (!item.deleted) yield item;
}
const livingKeys = (type: Stored): [string, Y.Item][] =>
  [...type._map].filter(([, item]) => !item.deleted);

function readChildren(
  parent: Stored,
  parentName: string,
  depth: number,
  reading: Reading,
): NoteNode[] {
  const allowed = kindOf(parentName)?.children ?? [];
  const nodes: NoteNode[] = [];
  for (const { content } of livingItems(parent)) {
    reading.count += 1;
    if (reading.count > maxNoteNodes) {
      reading.problems.add(`the notes hold more than ${maxNoteNodes} pieces`);
      return nodes;
    }
    const type = content instanceof Y.ContentType ? content.type : null;
    if (type instanceof Y.XmlText) {
      if (allowed.includes('text')) appendText(nodes, readText(type, parentName, reading));
      else reading.problems.add(`text cannot stand in a ${parentName}`);
    } else if (type instanceof Y.XmlElement) {
      if (!allowed.includes(type.nodeName)) {
        reading.problems.add(`a ${type.nodeName.slice(0, 40)} cannot stand in a ${parentName}`);
      } else if (depth >= maxNoteDepth) {
        reading.problems.add(`the notes are nested deeper than ${maxNoteDepth}`);
      } else {
        nodes.push(readElement(type, depth + 1, reading));
      }
    } else {
      reading.problems.add('the notes hold something that is no text');
    }
  }
  return nodes;
}

function readElement(element: Y.XmlElement, depth: number, reading: Reading): NoteNode {
  const type = element.nodeName;
  const stored: Attrs = {};
  for (const [key, { content }] of livingKeys(element)) {
    const value: unknown =
      content instanceof Y.ContentAny && content.arr.length === 1 ? content.arr[0] : content;
    stored[key] = value;
  }
  const content = readChildren(element, type, depth, reading);
  return {
    type,
    ...someAttrs(readAttrs(kindOf(type)?.attrs.safeParse(stored), stored, `a ${type}`, reading)),
    ...(content.length > 0 ? { content } : {}),
  };
}

/** Attributes as declared; none when they are not as declared, with the reason kept. */
function readAttrs(
  parsed: { success: boolean; data?: Attrs } | undefined,
  stored: unknown,
  what: string,
  reading: Reading,
): Attrs {
  if (parsed?.success === true && whyNotJson(stored) === null) return parsed.data ?? {};
  reading.problems.add(`${what} is written in a way that cannot be read`);
  return {};
}

/** Without those that say nothing, in the order of their names. */
function someAttrs(attrs: Attrs): { attrs?: Attrs } {
  const entries = Object.entries(attrs)
    .filter(([, value]) => value !== null && value !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : 1));
  return entries.length > 0 ? { attrs: Object.fromEntries(entries) } : {};
}

function readText(text: Y.XmlText, parentName: string, reading: Reading): NoteNode[] {
  if (livingKeys(text).length > 0) reading.problems.add('a text carries names of its own');
  const runs: NoteNode[] = [];
  const format = new Map<string, unknown>();
  for (const { content } of livingItems(text)) {
    if (content instanceof Y.ContentString) {
      reading.length += content.str.length;
      if (reading.length > maxNotesLength) {
        reading.problems.add(`the notes are longer than ${maxNotesLength} characters`);
        return runs;
      }
      if (!isFitText(content.str)) reading.problems.add('a text holds half a character or NUL');
      const marks = parentName === 'codeBlock' ? [] : readMarks(format, reading);
      appendText(runs, [
        { type: 'text', text: content.str, ...(marks.length > 0 ? { marks } : {}) },
      ]);
    } else if (content instanceof Y.ContentFormat) {
      if (content.value === null) {
        format.delete(content.key);
      } else {
        format.set(content.key, content.value);
        // Checked even where no text follows: nothing may lie here unseen.
        readMark(content.key, content.value, reading);
      }
    } else {
      reading.problems.add('a text holds something that is no text');
    }
  }
  if (runs.some((run) => (run.text?.length ?? 0) > maxNoteTextLength)) {
    reading.problems.add(`a text is longer than ${maxNoteTextLength} characters`);
    return [];
  }
  return runs;
}

type Mark = NonNullable<NoteNode['marks']>[number];

function readMark(name: string, value: unknown, reading: Reading): Mark | null {
  const parsed = markAttrs(name)?.safeParse(value);
  if (parsed?.success !== true || whyNotJson(value) !== null) {
    reading.problems.add(`the mark ${name.slice(0, 40)} cannot be read`);
    return null;
  }
  return { type: name, ...someAttrs(parsed.data) };
}

function readMarks(format: ReadonlyMap<string, unknown>, reading: Reading): Mark[] {
  return markNames
    .filter((name) => format.has(name))
    .map((name) => readMark(name, format.get(name), reading))
    .filter((mark) => mark !== null);
}

/** Adds runs of text, joining those that read alike: how they were typed is not what they say. */
function appendText(nodes: NoteNode[], runs: readonly NoteNode[]): void {
  for (const run of runs) {
    const last = nodes.at(-1);
    if (last?.type === 'text' && JSON.stringify(last.marks) === JSON.stringify(run.marks)) {
      nodes[nodes.length - 1] = { ...last, text: `${last.text ?? ''}${run.text ?? ''}` };
    } else if (run.text !== '') {
      nodes.push(run);
    }
  }
}
