import type { Formation, Place, Spot } from './spec.ts';

const onLine = 0.5;
const offLine = 1.5;

const man =
  (label: string, position: Spot['position'], number: number) =>
  (place: Place): Spot => ({
    label,
    position,
    number,
    place,
  });
const X = man('X', 'WR', 1);
const Z = man('Z', 'WR', 2);
const H = man('H', 'WR', 11);
const Y = man('Y', 'TE', 88);
const U = man('U', 'TE', 86);
const A = man('A', 'WR', 5);
const F = man('F', 'RB', 28);
const B = man('B', 'RB', 33);
const Q = man('Q', 'QB', 12);

const wide = (side: 'strong' | 'weak', depth: number): Place => ({ kind: 'wide', side, depth });
const slot = (side: 'strong' | 'weak', share: number, depth: number): Place => ({
  kind: 'slot',
  side,
  share,
  depth,
});
const fromTackle = (side: 'strong' | 'weak', yards: number, depth: number): Place => ({
  kind: 'tackle',
  side,
  yards,
  depth,
});
const back = (yards: number, depth: number): Place => ({ kind: 'backfield', yards, depth });

const gun = Q(back(0, 5));
const underCentre = Q(back(0, 1.2));

/** Formations a staff starts from. Splits and depths are common practice, no single source. */
export const catalog: readonly Formation[] = [
  {
    id: 'doubles',
    name: 'Doubles, 2x2',
    structure: '2x2',
    personnel: '10',
    skill: [
      X(wide('weak', onLine)),
      A(slot('weak', 0.5, offLine)),
      H(slot('strong', 0.5, offLine)),
      Z(wide('strong', onLine)),
      F(back(-1.6, 5)),
      gun,
    ],
  },
  {
    id: 'doubles-tight-end',
    name: 'Doubles with a tight end, 2x2',
    structure: '2x2',
    personnel: '11',
    skill: [
      X(wide('weak', onLine)),
      H(slot('weak', 0.5, offLine)),
      Y(fromTackle('strong', 1.4, onLine)),
      Z(wide('strong', offLine)),
      F(back(-1.6, 5)),
      gun,
    ],
  },
  {
    id: 'trips',
    name: 'Trips, 3x1',
    structure: '3x1',
    personnel: '10',
    skill: [
      X(wide('weak', onLine)),
      A(slot('strong', 0.33, offLine)),
      H(slot('strong', 0.66, offLine)),
      Z(wide('strong', onLine)),
      F(back(-1.6, 5)),
      gun,
    ],
  },
  {
    id: 'trips-tight-end',
    name: 'Trips with a tight end, 3x1',
    structure: '3x1',
    personnel: '11',
    skill: [
      X(wide('weak', onLine)),
      Y(fromTackle('strong', 1.4, onLine)),
      H(slot('strong', 0.55, offLine)),
      Z(wide('strong', offLine)),
      F(back(-1.6, 5)),
      gun,
    ],
  },
  {
    id: 'bunch',
    name: 'Bunch, 3x1',
    structure: '3x1',
    personnel: '11',
    skill: [
      X(wide('weak', onLine)),
      Y(fromTackle('strong', 4.2, offLine)),
      H(fromTackle('strong', 5.6, onLine)),
      Z(fromTackle('strong', 7, offLine)),
      F(back(-1.6, 5)),
      gun,
    ],
  },
  {
    id: 'tight',
    name: 'Tight splits, 2x2',
    structure: '2x2',
    personnel: '11',
    skill: [
      X(fromTackle('weak', 4.2, onLine)),
      H(fromTackle('weak', 2.4, offLine)),
      Y(fromTackle('strong', 1.4, onLine)),
      Z(fromTackle('strong', 3.6, offLine)),
      F(back(-1.6, 5)),
      gun,
    ],
  },
  {
    id: 'empty',
    name: 'Empty, 3x2',
    structure: '3x2',
    personnel: '10',
    skill: [
      X(wide('weak', onLine)),
      F(slot('weak', 0.5, offLine)),
      A(slot('strong', 0.33, offLine)),
      H(slot('strong', 0.66, offLine)),
      Z(wide('strong', onLine)),
      gun,
    ],
  },
  {
    id: 'quads',
    name: 'Empty, 4x1',
    structure: '4x1',
    personnel: '10',
    skill: [
      X(wide('weak', onLine)),
      F(fromTackle('strong', 2.4, offLine)),
      A(slot('strong', 0.42, offLine)),
      H(slot('strong', 0.7, offLine)),
      Z(wide('strong', onLine)),
      gun,
    ],
  },
  {
    id: 'two-backs',
    name: 'Split backs, 2x1',
    structure: '2x1',
    personnel: '21',
    skill: [
      X(wide('weak', onLine)),
      Y(fromTackle('strong', 1.4, onLine)),
      Z(wide('strong', offLine)),
      F(back(-1.6, 5)),
      B(back(1.6, 5)),
      gun,
    ],
  },
  {
    id: 'two-tight-ends',
    name: 'Ace with two tight ends, 2x2',
    structure: '2x2',
    personnel: '12',
    skill: [
      X(wide('weak', offLine)),
      U(fromTackle('weak', 1.4, onLine)),
      Y(fromTackle('strong', 1.4, onLine)),
      Z(wide('strong', offLine)),
      F(back(0, 7)),
      underCentre,
    ],
  },
  {
    id: 'unbalanced',
    name: 'Unbalanced, tackle over, 2x2',
    structure: '2x2',
    personnel: '11',
    unbalanced: true,
    skill: [
      X(wide('weak', offLine)),
      Y(fromTackle('weak', 1.4, onLine)),
      H(slot('strong', 0.5, offLine)),
      Z(wide('strong', onLine)),
      F(back(-1.6, 5)),
      gun,
    ],
  },
];
