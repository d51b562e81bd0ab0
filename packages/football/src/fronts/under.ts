import { edge, technique } from '../looks/rule.ts';
import { boxDepth, type Front, onTightEnd, rusher } from './front.ts';

/** Four down, the three-technique away from strength: 5, shade, 3, 5, and a Sam on the line over a tight end. 4-3-4. */
export const under: Front = {
  parity: 'even',
  rushers: [
    rusher('strong-end', 'E', technique('strong', '5')),
    rusher('nose', 'N', technique('strong', '1')),
    rusher('tackle', 'T', technique('weak', '3')),
    rusher('weak-end', 'E', technique('weak', '5'), [
      { when: { covered: 'weak' }, at: technique('weak', '9') },
    ]),
  ],
  mike: technique('strong', '3', boxDepth),
  will: technique('weak', '1', boxDepth),
  overhang: {
    label: 'S',
    rather: onTightEnd,
    stand: edge('strong', 1.5, boxDepth),
  },
};
