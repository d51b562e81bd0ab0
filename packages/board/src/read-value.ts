import type { z } from 'zod';
import { type ElementName, nameOf } from './element-key.ts';
import { deepFreeze, sameJson, whyNotJson } from './json.ts';
import {
  type MapRoot,
  mapRoots,
  metaSchemas,
  type ValueOf,
  type ValueRoot,
  valueSchemas,
} from './schema.ts';

export type Read<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly why: string };

/**
 * Stored objects are never changed in place, so one reading of each is enough; and what has not
 * changed keeps its identity from one projection to the next.
 */
const readings = Object.fromEntries(
  mapRoots.map((root) => [root, new WeakMap<object, Read<unknown>>()]),
) as Record<MapRoot, WeakMap<object, Read<unknown>>>;

function parse(schema: z.ZodType, raw: unknown): Read<unknown> {
  const why = whyNotJson(raw);
  if (why !== null) return { ok: false, why };
  const parsed = schema.safeParse(raw);
  if (!parsed.success) return { ok: false, why: whyOf(parsed.error) };
  // A value that reads differently from how it is stored (blanks around a name) hides something.
  if (!sameJson(parsed.data, raw)) return { ok: false, why: 'it is not written in its plain form' };
  return { ok: true, value: deepFreeze(parsed.data) };
}

/** The first thing that is wrong, with its place; a whole sentence names it itself. */
export function whyOf(error: z.ZodError): string {
  const issue = error.issues[0];
  if (issue === undefined) return 'it cannot be read';
  const where = issue.path.map(String).join('.');
  return where === '' || issue.message.endsWith('.') ? issue.message : `${where}: ${issue.message}`;
}

function read(root: MapRoot, schema: z.ZodType, raw: unknown): Read<unknown> {
  if (typeof raw !== 'object' || raw === null) return parse(schema, raw);
  const known = readings[root].get(raw);
  if (known !== undefined) return known;
  const reading = parse(schema, raw);
  readings[root].set(raw, reading);
  return reading;
}

export function readMeta<K extends keyof typeof metaSchemas>(
  key: K,
  raw: unknown,
): Read<z.infer<(typeof metaSchemas)[K]>> {
  // Every key's object is another, so one cache serves.
  return read('meta', metaSchemas[key], raw) as Read<z.infer<(typeof metaSchemas)[K]>>;
}

export function readValue<R extends ValueRoot>(root: R, raw: unknown): Read<ValueOf<R>> {
  return read(root, valueSchemas[root], raw) as Read<ValueOf<R>>;
}

/** Reads whatever stands under a key, and checks that a row or branch carries its key's id. */
export function readElement(
  root: MapRoot,
  key: string,
  raw: unknown,
): Read<unknown> & { name?: ElementName } {
  const name = nameOf(root, key);
  if (name === null) return { ok: false, why: 'no element of a board has this name' };
  if (name.root === 'meta') return { ...readMeta(name.key, raw), name };
  if (root === 'meta') return { ok: false, why: 'no element of a board has this name' };
  const reading = readValue(root, raw);
  if (!reading.ok) return { ...reading, name };
  const id = (reading.value as { id?: string }).id;
  if (
    (name.root === 'rows' && id !== name.row) ||
    (name.root === 'branches' && id !== name.branch)
  ) {
    return { ok: false, why: 'it is kept under the name of another', name };
  }
  return { ...reading, name };
}
