import { technique } from '../looks/rule.ts';
import { type Front, rusher } from './front.ts';

/** Depth of a linebacker behind six men on the line. Common practice, no single source. */
const closeDepth = 3.5;

/** Six down, every gap taken: 5 or 9, 3, shade to either side; two linebackers close behind. 6-2. */
export const goalLine: Front = {
  parity: 'even',
  rushers: [
    rusher('strong-end', 'E', technique('strong', '5'), [
      { when: { covered: 'strong' }, at: technique('strong', '9') },
    ]),
    rusher('strong-tackle', 'T', technique('strong', '3')),
    rusher('strong-nose', 'N', technique('strong', '1')),
    rusher('weak-nose', 'N', technique('weak', '1')),
    rusher('weak-tackle', 'T', technique('weak', '3')),
    rusher('weak-end', 'E', technique('weak', '5'), [
      { when: { covered: 'weak' }, at: technique('weak', '9') },
    ]),
  ],
  mike: technique('strong', '4', closeDepth),
  will: technique('weak', '4', closeDepth),
  overhang: { label: 'S', rather: [], stand: technique('strong', '5', closeDepth) },
};
