import { Buffer } from 'node:buffer';

/** Whoever shows something. */
export interface Shown {
  id: string;
  name: string;
}

/** Colours of presence, told apart on grass and on paper; a member always has the same. */
const colors = [
  '#1f77b4',
  '#d62728',
  '#2ca02c',
  '#9467bd',
  '#ff7f0e',
  '#17becf',
  '#e377c2',
  '#8c564b',
];

function colorOf(memberId: string): string {
  let sum = 0;
  for (const letter of memberId) sum = (sum * 31 + (letter.codePointAt(0) ?? 0)) % 1_000_003;
  return colors[sum % colors.length] as string;
}

const wordOn = ({ id, name }: Shown) => ({ id, name, color: colorOf(id) });

/** `"member":{…}` of each member: written once, and not with every move of his hand. */
const words = new WeakMap<Shown, string>();

function wordsOn(member: Shown): string {
  const known = words.get(member);
  if (known !== undefined) return known;
  const made = `"member":${JSON.stringify(wordOn(member))}`;
  words.set(member, made);
  return made;
}

/** A state with the server's word on who it is (R40); null when he left; undefined when it is no state. */
export function signed(member: Shown, json: Uint8Array): string | null | undefined {
  const text = Buffer.from(json.buffer, json.byteOffset, json.byteLength).toString('utf8');
  let state: unknown;
  try {
    state = JSON.parse(text);
  } catch {
    return undefined;
  }
  if (state === null) return null;
  if (typeof state !== 'object' || Array.isArray(state)) return undefined;
  if ('member' in state || 'user' in state) {
    const { name, color } = wordOn(member);
    const user = 'user' in state ? { user: { name, color } } : {};
    return JSON.stringify({ ...state, ...user, member: wordOn(member) });
  }
  // The text is an object's, so it ends with a brace; what stands before it may stay as it is.
  const open = text.slice(0, text.lastIndexOf('}'));
  return `${open}${Object.keys(state).length > 0 ? ',' : ''}${wordsOn(member)}}`;
}
