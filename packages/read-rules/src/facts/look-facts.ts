import type { Defender, LookTraits } from '@stemline/football/look';
import { insideSign } from '@stemline/football/route';
import { describeCount, oneOf } from '../words.ts';
import { beforeSnap, type FactDeclaration } from './declaration.ts';
import type { Sighting } from './sighting.ts';

const fronts: Readonly<Record<LookTraits['front'], string>> = { even: 'even', odd: 'odd' };
const shells: Readonly<Record<LookTraits['shell'], string>> = {
  zero: 'no deep safety',
  oneHigh: 'one high',
  twoHigh: 'two high',
};
const middles: Readonly<Record<LookTraits['middle'], string>> = {
  open: 'open',
  closed: 'closed',
};
const coverages: Readonly<Record<LookTraits['coverage'], string>> = {
  man: 'man',
  zone: 'zone',
  match: 'match',
};
const leans = {
  toward: 'leans toward him',
  balanced: 'is balanced',
  away: 'leans away from him',
  none: 'is not there',
} as const;

/** The middle linebacker is balanced when he stands no further than this off the ball. Yards. */
export const balancedWithin = 0.75;

/** A linebacker wider than this from the ball is not in the middle: outside the tackles. Yards. */
export const insideTackles = 3.5;

export const front: FactDeclaration = {
  name: 'front',
  label: 'Front',
  help: 'Even or odd, as the look declares it.',
  domain: { kind: 'enumerated', values: Object.keys(fronts) },
  unit: '',
  valueLabels: fronts,
  hangsOn: 'look',
  seenBy: beforeSnap,
  says: (side) => ({ subject: 'the front', says: `is ${oneOf(side, fronts)}` }),
  measure: ({ look }) => look.traits.front,
};

export const shell: FactDeclaration = {
  name: 'shell',
  label: 'Shell',
  help: 'How many deep safeties the look shows before the snap.',
  domain: { kind: 'enumerated', values: Object.keys(shells) },
  unit: '',
  valueLabels: shells,
  hangsOn: 'look',
  seenBy: beforeSnap,
  says: (side) => ({ subject: 'the defense', says: `shows ${oneOf(side, shells)}` }),
  measure: ({ look }) => look.traits.shell,
};

export const middle: FactDeclaration = {
  name: 'middle',
  label: 'Middle of the field',
  help: 'Open or closed after the snap: a deep man in the middle, or none.',
  domain: { kind: 'enumerated', values: Object.keys(middles) },
  unit: '',
  valueLabels: middles,
  hangsOn: 'look',
  // The safeties' turn shows to the passer first; a runner sees it once he is off the line. Common practice.
  seenBy: {
    runner: { when: 'byDepth', yards: 4 },
    passer: { when: 'afterSnap', seconds: 0.8 },
    blocker: { when: 'never' },
  },
  says: (side) => ({ subject: 'the middle of the field', says: `is ${oneOf(side, middles)}` }),
  measure: ({ look }) => look.traits.middle,
};

export const coverage: FactDeclaration = {
  name: 'coverage',
  label: 'Coverage',
  help: 'What the coverage turns out to be after the snap. Only the passer sees the whole of it.',
  domain: { kind: 'enumerated', values: Object.keys(coverages) },
  unit: '',
  valueLabels: coverages,
  hangsOn: 'look',
  seenBy: {
    runner: { when: 'never' },
    passer: { when: 'afterSnap', seconds: 1 },
    blocker: { when: 'never' },
  },
  says: (side) => ({ subject: 'the coverage', says: `is ${oneOf(side, coverages)}` }),
  measure: ({ look }) => look.traits.coverage,
};

export const rushers: FactDeclaration = {
  name: 'rushers',
  label: 'Rushers',
  help: 'How many defenders come after the passer.',
  domain: { kind: 'continuous', min: 0, max: 11, whole: true },
  unit: 'men',
  valueLabels: {},
  hangsOn: 'neighbours',
  seenBy: {
    runner: { when: 'never' },
    passer: { when: 'afterSnap', seconds: 0.6 },
    blocker: { when: 'afterSnap', seconds: 0.6 },
  },
  says: (side) => ({ subject: describeCount(side), says: 'rush' }),
  measure: (sighting) =>
    sighting.look.defenders.filter((_, man) => sighting.doing(man).move === 'rush').length,
};

/** The second-level man nearest the ball, inside the tackles; two as near are nobody's middle. */
export function middleLinebacker({ look, ball }: Sighting): Defender | null {
  const inside = look.defenders
    .filter(({ level, at }) => level === 'second' && Math.abs(at[0] - ball) <= insideTackles)
    .sort((a, b) => Math.abs(a.at[0] - ball) - Math.abs(b.at[0] - ball));
  return inside[0] ?? null;
}

export const mikeLean: FactDeclaration = {
  name: 'mikeLean',
  label: 'Middle linebacker leans',
  help: 'Where the second-level man nearest the ball stands: toward the runner, away from him, within three quarters of a yard of the ball, or nobody inside the tackles.',
  domain: { kind: 'enumerated', values: Object.keys(leans) },
  unit: '',
  valueLabels: leans,
  hangsOn: 'neighbours',
  seenBy: beforeSnap,
  says: (side) => ({ subject: 'the middle linebacker', says: oneOf(side, leans) }),
  measure: (sighting) => {
    const mike = middleLinebacker(sighting);
    if (!mike) return 'none';
    const off = mike.at[0] - sighting.ball;
    if (Math.abs(off) <= balancedWithin) return 'balanced';
    // His inside leads to the ball; a linebacker short of the ball on his side leans toward him.
    const hisSide = -insideSign(sighting.runner.at[0], sighting.ball);
    return Math.sign(off) === hisSide ? 'toward' : 'away';
  },
};
