import { dropIdSchema } from '@stemline/football/footwork/drop';
import { pointSchema } from '@stemline/football/geometry';
import {
  motionSchema,
  playerInfoSchema,
  playNameSchema,
  playSchema,
  routeSchema,
  situationSchema,
} from '@stemline/football/play';
import { protectionCallSchema } from '@stemline/football/protection';
import { branchSchema, cardHeadSchema, rowSchema } from '@stemline/read-rules/card';
import * as Y from 'yjs';
import { z } from 'zod';
import { isOrder } from './order.ts';

/** Where a row or a branch stands on its card; a key between any two can always be made. */
export const orderSchema = z.string().refine(isOrder, 'this is not a place in an order');

const [routeBranch, targetBranch, blockBranch] = branchSchema.options;

/** What `meta` holds, key by key. */
export const metaSchemas = {
  /** The shape the document was written in; only a migration raises it. */
  version: z.number().int().min(1),
  name: playNameSchema,
  concept: playSchema.shape.concept,
  situation: situationSchema,
  /** It may be missing: then nothing is called. */
  protection: protectionCallSchema,
  /** It may be missing: then the passer drops as suits his first man. */
  drop: dropIdSchema,
} as const;
export type MetaKey = keyof typeof metaSchemas;

/**
 * The maps of a board whose keys name players (`H`) or a player's rows and branches (`H.row1`).
 * Every value is ONE plain JSON value: a gesture then costs one write, and what is overwritten
 * leaves nothing behind.
 */
export const valueSchemas = {
  players: playerInfoSchema,
  spots: pointSchema,
  routes: routeSchema,
  motions: motionSchema,
  cards: cardHeadSchema,
  rows: rowSchema.extend({ order: orderSchema }),
  branches: z.discriminatedUnion('kind', [
    routeBranch.extend({ order: orderSchema }),
    targetBranch.extend({ order: orderSchema }),
    blockBranch.extend({ order: orderSchema }),
  ]),
} as const;
export type ValueRoot = keyof typeof valueSchemas;
export type ValueOf<R extends ValueRoot> = z.infer<(typeof valueSchemas)[R]>;
export type RowValue = ValueOf<'rows'>;
export type BranchValue = ValueOf<'branches'>;

export const valueRoots = Object.keys(valueSchemas) as readonly ValueRoot[];
export type MapRoot = 'meta' | ValueRoot;
export const mapRoots: readonly MapRoot[] = ['meta', ...valueRoots];

/** The XmlFragment that Tiptap's collaboration extension is given (`fragment`, or `field: 'notes'`). */
export const notesRoot = 'notes';

const roots: ReadonlySet<string> = new Set([...mapRoots, notesRoot]);
export const isRoot = (name: string): boolean => roots.has(name);

export interface Roots {
  readonly maps: Readonly<Record<MapRoot, Y.Map<unknown>>>;
  readonly notes: Y.XmlFragment;
}

/** Declares every root with its type, so that an update can only bring content of that type. */
export function rootsOf(ydoc: Y.Doc): Roots {
  const maps = Object.fromEntries(mapRoots.map((root) => [root, ydoc.getMap(root)]));
  return { maps: maps as Record<MapRoot, Y.Map<unknown>>, notes: ydoc.getXmlFragment(notesRoot) };
}

/** A new document with every root declared. Client ids are random unless one is given. */
export function newDocument(clientId?: number): Y.Doc {
  // A name of its own would be for documents within documents; drawing one takes longer than all the rest here.
  const ydoc = new Y.Doc({ guid: '' });
  if (clientId !== undefined) ydoc.clientID = clientId;
  rootsOf(ydoc);
  return ydoc;
}
