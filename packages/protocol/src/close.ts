/**
 * Close codes of a room. 4400 to 4499: do not come back with the same request (a plain y-websocket
 * client stops at these); 4500 to 4599: try again later.
 */
export const close = {
  malformed: 4400,
  notSignedIn: 4401,
  notAllowed: 4403,
  unknownBoard: 4404,
  presenceSpoofed: 4405,
  accessChanged: 4406,
  clientTooOld: 4408,
  refused: 4409,
  /** What this client wrote is saved; its copy of the board is to be dropped, and the board opened afresh. */
  outdatedCopy: 4410,
  tooLarge: 4413,
  tooMany: 4429,
  restarting: 4500,
  slowReader: 4501,
  loadFailed: 4503,
} as const;
export type CloseCode = (typeof close)[keyof typeof close];
