import type { Move } from '@stemline/football/look';
import { insideOf } from '../key.ts';
import { clamp, measured } from '../measured.ts';
import { type Directed, describeDepth, describeDirected, describeOffset, oneOf } from '../words.ts';
import { afterSnap, beforeSnap, type FactDeclaration } from './declaration.ts';
import { sideManOf } from './sighting.ts';

const moves: Readonly<Record<Move, string>> = {
  rush: 'rushes',
  drop: 'drops',
  wall: 'walls him off',
  widen: 'widens',
  man: 'takes his man',
  sit: 'sits',
};

const cushionWords: Directed = { over: 'over him', under: 'under him', zero: 'level with him' };

/** A defender's first two steps say that he comes, or that he does not. Common practice, no single source. */
const rushShows = 0.4;
/** Which of the other moves it is takes a step more. Common practice, no single source. */
const moveShows = 0.6;

export const keyOffset: FactDeclaration = {
  name: 'keyOffset',
  label: 'Key inside or outside',
  help: 'How far inside the key lines up, counted from head-up. Outside is a minus number.',
  domain: { kind: 'continuous', min: -40, max: 40, whole: false },
  unit: 'yd',
  valueLabels: {},
  hangsOn: 'key',
  seenBy: beforeSnap,
  says: (side) => ({ subject: 'the key', says: describeOffset(side) }),
  measure: ({ key, start, ball }) => key && clamp(insideOf(start, key.at[0], ball), -40, 40),
};

export const keyDepth: FactDeclaration = {
  name: 'keyDepth',
  label: "Key's depth",
  help: 'How deep the key stands at the snap, from the line of scrimmage.',
  domain: { kind: 'continuous', min: 0, max: 40, whole: false },
  unit: 'yd',
  valueLabels: {},
  hangsOn: 'key',
  seenBy: beforeSnap,
  says: (side) => ({ subject: 'the key', says: `lines up ${describeDepth(side)} deep` }),
  measure: ({ key }) => key && clamp(measured(key.at[1]), 0, 40),
};

export const keyMove: FactDeclaration = {
  name: 'keyMove',
  label: 'What the key does',
  help: 'What the key does after the snap.',
  domain: { kind: 'enumerated', values: ['rush', 'drop', 'wall', 'widen', 'man', 'sit'] },
  unit: '',
  valueLabels: moves,
  hangsOn: 'key',
  seenBy: afterSnap(moveShows),
  says: (side) => ({ subject: 'the key', says: oneOf(side, moves) }),
  measure: (sighting) => sighting.key && sighting.reactionOf(sighting.key).move,
};

export const keyRushes: FactDeclaration = {
  name: 'keyRushes',
  label: 'Key rushes',
  help: 'Whether the key comes after the passer.',
  domain: { kind: 'boolean' },
  unit: '',
  valueLabels: {},
  hangsOn: 'key',
  seenBy: afterSnap(rushShows),
  says: (side) => ({
    subject: 'the key',
    says: side.kind === 'values' && side.values.includes(true) ? 'rushes' : 'does not rush',
  }),
  measure: (sighting) => sighting.key && sighting.reactionOf(sighting.key).move === 'rush',
};

export const cushion: FactDeclaration = {
  name: 'cushion',
  label: 'Cushion',
  help: 'How far in front of him the key still is when he decides. A minus number: he has run past the key.',
  domain: { kind: 'continuous', min: -20, max: 40, whole: false },
  unit: 'yd',
  valueLabels: {},
  hangsOn: 'key',
  seenBy: afterSnap(0),
  says: (side) => ({ subject: 'the key', says: `is ${describeDirected(side, cushionWords)}` }),
  measure: (sighting) =>
    sighting.key &&
    clamp(measured(sighting.whereAt(sighting.key)[1] - sighting.decision.at[1]), -20, 40),
};

export const manOutside: FactDeclaration = {
  name: 'manOutside',
  label: 'Man on the other side',
  help: "A second defender on the side away from the scan, within the card's width and depth: with the key he makes a bracket.",
  domain: { kind: 'boolean' },
  unit: '',
  valueLabels: {},
  hangsOn: 'sideMan',
  seenBy: beforeSnap,
  says: (side, { sideManOn }) => ({
    subject: side.kind === 'values' && side.values.includes(true) ? 'a man' : 'nobody',
    says: `stands ${sideManOn} of him`,
  }),
  measure: (sighting) => sideManOf(sighting) !== null,
};
