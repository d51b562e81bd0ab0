import { downGroup, downGroupSchema, fieldZone, fieldZoneSchema } from '@stemline/football/field';
import { clamp } from '../measured.ts';
import { describeCount, oneOf } from '../words.ts';
import { beforeSnap, type FactDeclaration } from './declaration.ts';

const zones: Readonly<Record<(typeof fieldZoneSchema.options)[number], string>> = {
  backedUp: 'backed up',
  open: 'in the open field',
  redZone: 'in the red zone',
  goalLine: 'at the goal line',
};
const downs: Readonly<Record<(typeof downGroupSchema.options)[number], string>> = {
  first: 'first down',
  short: 'short to gain',
  medium: 'medium to gain',
  long: 'long to gain',
};

export const receiversThisSide: FactDeclaration = {
  name: 'receiversThisSide',
  label: 'Receivers on his side',
  help: 'Receivers out of the backfield on the side of the man the scan starts over, himself included.',
  domain: { kind: 'continuous', min: 0, max: 5, whole: true },
  unit: 'men',
  valueLabels: {},
  hangsOn: 'play',
  seenBy: beforeSnap,
  says: (side) => ({ subject: describeCount(side), says: 'line up as receivers on his side' }),
  measure: ({ receiversThisSide: count }) => clamp(count, 0, 5),
};

export const fieldZoneFact: FactDeclaration = {
  name: 'fieldZone',
  label: 'Part of the field',
  help: 'Where the ball lies between the goal lines.',
  domain: { kind: 'enumerated', values: fieldZoneSchema.options },
  unit: '',
  valueLabels: zones,
  hangsOn: 'play',
  seenBy: beforeSnap,
  says: (side) => ({ subject: 'the ball', says: `is ${oneOf(side, zones)}` }),
  measure: ({ play }) => fieldZone(play.situation),
};

export const downGroupFact: FactDeclaration = {
  name: 'downGroup',
  label: 'Down and distance',
  help: 'First down, or how far it is to gain after it.',
  domain: { kind: 'enumerated', values: downGroupSchema.options },
  unit: '',
  valueLabels: downs,
  hangsOn: 'play',
  seenBy: beforeSnap,
  says: (side) => ({ subject: 'it', says: `is ${oneOf(side, downs)}` }),
  measure: ({ play }) => downGroup(play.situation),
};
