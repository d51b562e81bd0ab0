import type { EditScope } from './edit-scope.ts';
import type { ElementKey } from './element-key.ts';
import type { Lack } from './lacking.ts';
import type { Projection } from './project.ts';
import type { RefusalCode } from './refusal.ts';
import type { Shadow } from './shadow.ts';

export interface Trial {
  readonly shadow: Shadow;
  /** One update in Yjs' first encoding, as it came over the wire. */
  readonly update: Uint8Array;
  /** Who sends it. */
  readonly member: string;
  /** Whom a client id is bound to; undefined when nobody has used it yet. */
  readonly clients: (client: number) => string | undefined;
  /** How many client ids that have written nothing here yet the member may bring. */
  readonly mayBring: () => number;
  readonly scope: EditScope;
}

export interface Accepted {
  readonly ok: true;
  /** Every element that differs now, removed ones too, in the order of their keys. */
  readonly changed: readonly ElementKey[];
  /** Client ids with new structs: bind each of them to the member. */
  readonly clients: readonly number[];
  /** False: the board has all of it already; there is nothing to store or to pass on. */
  readonly news: boolean;
  /**
   * What it brought, as one update: this is to be stored and passed on, not the bytes that came. Those
   * may repeat structs whose content is gone from the board with one of their own; the board leaves them
   * aside, but a client that has not synced yet would take them for the true ones.
   */
  readonly update: Uint8Array;
  readonly projection: Projection;
}

export interface Refusal {
  readonly ok: false;
  readonly code: RefusalCode;
  readonly why: string;
  /** What the sender can do about it. */
  readonly mend: string;
  /** The elements it would have changed wrongly, as far as they can be told. */
  readonly elements: readonly ElementKey[];
  /** The same in a coach's words. */
  readonly names: readonly string[];
  /**
   * Words of other client ids that it needs and does not bring, or brings though they are a colleague's:
   * whoever writes under them may be about to bring them himself. Empty: that is not what is wrong.
   */
  readonly awaits: ReadonlyMap<number, Lack>;
  /** `dirty`: the shadow now holds the refused update; call `shadow.rebuild` before the next trial. */
  readonly shadow: 'clean' | 'dirty';
}

export type Verdict = Accepted | Refusal;
