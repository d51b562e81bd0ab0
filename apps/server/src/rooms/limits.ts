import * as protocol from '@stemline/protocol/limits';

/** The protocol's limits as a room keeps them; a test may set some lower. */
export interface RoomLimits {
  maxFrameBytes: number;
  maxDocumentBytes: number;
  maxWaitingFrames: number;
  maxEarlyUpdates: number;
  maxEarlyBytes: number;
  earlyPatienceMs: number;
  outrunPatienceMs: number;
  maxBufferedBytes: number;
  maxUnsavedBytes: number;
  maxSocketsPerUser: number;
  maxHeldBytesPerUser: number;
  maxUndecidedUpgrades: number;
  refusedUpgradesPerMinute: number;
  quarantinedPerMinute: number;
  presencePerSecond: number;
  presenceFloodPerSecond: number;
  maxFullTurnsPerSecond: number;
  maxPresenceBytes: number;
  batchMs: number;
  turnMs: number;
  idleUnloadMs: number;
  restMs: number;
  heartbeatMs: number;
  accessHoldsMs: number;
  findingsDebounceMs: number;
  findingsEveryMs: number;
  findingsRecordedEveryMs: number;
  serverBeatMs: number;
  serverSilenceMs: number;
  compareMs: number;
  compareAwayMs: number;
  hintsAwayMs: number;
  compactAfterUpdates: number;
  checkThreads: number;
  maxWaitingChecks: number;
  checkPatienceMs: number;
  keepIdleThreadMs: number;
}

export const roomLimits: RoomLimits = { ...protocol };
