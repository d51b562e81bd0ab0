import type { FindingKind } from '@stemline/read-rules/finding';

/** What each finding is called on screen. */
export const kindNames: Record<FindingKind, string> = {
  gap: 'Gap',
  clash: 'Clash',
  neverUsed: 'Never used',
  noKey: 'No key',
  twoKeys: 'Two keys',
  lateDecision: 'Late decision',
  late: 'Late',
  early: 'Early',
  crowded: 'Crowded',
  outOfRoom: 'Out of room',
  outOfReach: 'Out of reach',
  undercut: 'Undercut',
  unblocked: 'Unblocked',
  noHot: 'No hot answer',
  hotKeys: 'Hot keys apart',
  unseen: 'Not seen in time',
  noDefault: 'No answer when in doubt',
  illegalFormation: 'Illegal formation',
  unfinished: 'Unfinished',
  offThePage: 'Off the page',
};
