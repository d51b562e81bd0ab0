import { edge, technique } from '../looks/rule.ts';
import { boxDepth, type Front, onTightEnd, rusher } from './front.ts';

const jack = rusher('jack', 'J', edge('weak', 1, 0.8));

const sam: Front['overhang'] = {
  label: 'S',
  rather: onTightEnd,
  stand: edge('strong', 1.5, boxDepth),
};

const threeDown = (technique_: '4i' | '5') => [
  rusher('strong-end', 'E', technique('strong', technique_)),
  rusher('nose', 'N', technique('strong', '0')),
  rusher('weak-end', 'E', technique('weak', technique_)),
];

/** Three down at 5-0-5 with the weak outside backer coming, so that four rush. 3-4-4. */
export const odd: Front = {
  parity: 'odd',
  rushers: [...threeDown('5'), jack],
  mike: technique('strong', '3', boxDepth),
  will: technique('weak', '3', boxDepth),
  overhang: sam,
};

/** The same with both ends inside the tackles: 4i-0-4i. */
export const tite: Front = {
  ...odd,
  rushers: [...threeDown('4i'), jack],
  mike: technique('strong', '2', boxDepth),
  will: technique('weak', '2', boxDepth),
};

/** Three down and nobody with them: the linebackers stand behind the line. 3-3-5. */
export const stack: Front = {
  parity: 'odd',
  rushers: threeDown('5'),
  mike: technique('strong', '0', boxDepth),
  will: technique('weak', '4', boxDepth),
  overhang: { ...sam, label: 'NB', rather: [] },
};
