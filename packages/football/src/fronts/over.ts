import { edge, technique } from '../looks/rule.ts';
import { boxDepth, type Front, rusher } from './front.ts';

/** Four down, the three-technique to strength: 9 or 5, 3, shade, 5. Nickel personnel, 4-2-5. */
export const over: Front = {
  parity: 'even',
  rushers: [
    rusher('strong-end', 'E', technique('strong', '5'), [
      { when: { covered: 'strong' }, at: technique('strong', '9') },
    ]),
    rusher('tackle', 'T', technique('strong', '3')),
    rusher('nose', 'N', technique('weak', '1')),
    rusher('weak-end', 'E', technique('weak', '5'), [
      { when: { covered: 'weak' }, at: technique('weak', '9') },
    ]),
  ],
  mike: technique('strong', '1', boxDepth),
  will: technique('weak', '3', boxDepth),
  overhang: { label: 'NB', rather: [], stand: edge('strong', 1.5, boxDepth) },
};
