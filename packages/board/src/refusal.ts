import { z } from 'zod';

/** Why an update is not taken. `tooLarge` in bytes and `readOnly` by role are also said by the room itself. */
export const refusalCodeSchema = z.enum([
  /** Bytes that are no update, or that say more than an editor can have meant. */
  'malformed',
  /** The board would hold more than a board may. */
  'tooLarge',
  /** Written under the client id of another member, or of another copy of the board that wrote something else. */
  'foreignClient',
  /** It builds on something that never came: it would take effect unseen, later. */
  'pending',
  /** It writes where no part of a board is. */
  'undeclaredRoot',
  /** An element would be something that no board can hold. */
  'schema',
  /** It changes what this member may not change. */
  'scope',
  /** This member may not change the board at all. */
  'readOnly',
]);
export type RefusalCode = z.infer<typeof refusalCodeSchema>;
