/** Bytes of one frame from a client; a larger one closes the connection. */
export const maxFrameBytes = 1_048_576;
/** Bytes of one board's whole state. */
export const maxDocumentBytes = 8_388_608;
/** Presence messages a second that a client may send on average. */
export const presencePerSecond = 15;
/** Frames that may wait for a room that is still loading. */
export const maxWaitingFrames = 256;
/** Bytes that may wait for a slow reader before he is cut off. */
export const maxBufferedBytes = 4_194_304;
/** How long an empty room stays in memory, milliseconds. */
export const idleUnloadMs = 30_000;
/** How long accepted updates are gathered before one commit, milliseconds. */
export const batchMs = 5;
/** Updates in the log of a board before they are folded into a snapshot. */
export const compactAfterUpdates = 500;
