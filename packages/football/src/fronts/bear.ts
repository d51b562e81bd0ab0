import { edge, technique } from '../looks/rule.ts';
import { boxDepth, type Front, rusher } from './front.ts';

/** Centre and both guards covered, 3-0-3, and a man on each edge: five rush. */
export const bear: Front = {
  parity: 'odd',
  rushers: [
    rusher('strong-end', 'E', edge('strong', 0.9, 0.8)),
    rusher('strong-tackle', 'T', technique('strong', '3')),
    rusher('nose', 'N', technique('strong', '0')),
    rusher('weak-tackle', 'T', technique('weak', '3')),
    rusher('weak-end', 'E', edge('weak', 0.9, 0.8)),
  ],
  mike: technique('strong', '0', boxDepth),
  will: technique('weak', '3', boxDepth),
  overhang: { label: 'NB', rather: [], stand: edge('strong', 2, boxDepth) },
};
