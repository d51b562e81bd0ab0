/** Bytes of one frame from a client; a larger one closes the connection. */
export const maxFrameBytes = 1_048_576;
/** Bytes of one board's whole state. */
export const maxDocumentBytes = 8_388_608;
/** Presence messages a second that a client may send on average. */
export const presencePerSecond = 15;
/** Frames that may wait for a room that is still loading. */
export const maxWaitingFrames = 256;
/** Edits of a connection that may wait for its first answer to the room's sync. */
export const maxEarlyUpdates = 4_096;
/** Bytes of them; an honest client is ahead of its answer by a gesture or two. */
export const maxEarlyBytes = 1_048_576;
/** How long they wait for that answer, milliseconds, when they can stand alone. */
export const earlyPatienceMs = 2_000;
/** The same when they build on what has not arrived: the answer of a coach who was offline may be large. */
export const outrunPatienceMs = 30_000;
/** Bytes that may wait for a slow reader before he is cut off. */
export const maxBufferedBytes = 4_194_304;
/** How long an empty room stays in memory, milliseconds. */
export const idleUnloadMs = 30_000;
/** How long nothing may happen on an open board until only its bytes stay in memory, milliseconds. */
export const restMs = 3_000;
/** From the beginning of a commit that carried many updates to the next one at least, milliseconds; what comes meanwhile is gathered. */
export const batchMs = 5;
/** A commit that is not answered for so long is said to be late, milliseconds. */
export const behindAfterMs = 2_000;
/** A server leaves the next commit of a board to one that keeps losing the race for it, at most this long; milliseconds. */
export const turnMs = 200;
/** Updates in the log of a board before they are folded into a snapshot. */
export const compactAfterUpdates = 500;
/** Bytes of one client's presence state as JSON. */
export const maxPresenceBytes = 4_096;
/** States in one presence frame; a plain client tells in one of everybody it knows of. */
export const maxPresenceEntries = 10_000;
/** Own presence changes a second at which a client is no longer held back but cut off. */
export const presenceFloodPerSecond = 300;
/** Turns of a server's loop in a second in which one person sent more frames than are taken of anybody; past it he is cut off. It takes 16,000 frames in that second. */
export const maxFullTurnsPerSecond = 250;
/** Bytes of accepted updates that one room may hold while the store cannot be reached. */
export const maxUnsavedBytes = 8_388_608;
/** Sockets of one person on one server. */
export const maxSocketsPerUser = 4_000;
/** Bytes of messages that are not finished, or wait for their room, over all sockets of one person on one server. */
export const maxHeldBytesPerUser = 67_108_864;
/** Requests for a socket that may wait for a decision at once, on one server. */
export const maxUndecidedUpgrades = 8_000;
/** Refused requests for a socket that one session, or one address without any, may make in a minute; further ones are not even looked at. */
export const refusedUpgradesPerMinute = 300;
/** Refused updates of one member kept with their bytes in a minute; further ones are only counted and logged. */
export const quarantinedPerMinute = 30;
/** How often a silent connection is asked whether it is still there, milliseconds. */
export const heartbeatMs = 15_000;
/** How long a decision on who may be in a room holds unasked, milliseconds; an announced change is decided at once. */
export const accessHoldsMs = 60_000;
/** How long a board may rest before the rule check runs over it, milliseconds. */
export const findingsDebounceMs = 40;
/** Time from one rule check of a board to its next at least, milliseconds; the first after a pause does not wait for it. */
export const findingsEveryMs = 500;
/** Time from one change of the stored history of a board's findings to the next at least, milliseconds. */
export const findingsRecordedEveryMs = 2_000;
/** How often a server tells the others that it lives, milliseconds. */
export const serverBeatMs = 500;
/** Silence after which another server counts as gone, or Redis as away, milliseconds. */
export const serverSilenceMs = 3_000;
/** How often every open room, and everybody's access, is compared with the store, where several servers are at work; milliseconds. */
export const compareMs = 5_000;
/** The same while Redis is away. */
export const compareAwayMs = 1_000;
/** How often browsers are told, while Redis is away, that comments, sign-offs and looks may have changed; milliseconds. */
export const hintsAwayMs = 10_000;
/** Threads of one server that run the rule check. */
export const checkThreads = 2;
/** Rule checks that may wait for one of them; a board that finds no place asks again. */
export const maxWaitingChecks = 1_000;
/** Milliseconds after which a rule check is given up, and its thread with it. */
export const checkPatienceMs = 60_000;
/** How long such a thread is kept when no board is left that it knows, milliseconds. */
export const keepIdleThreadMs = 10_000;
