import type { Role } from './role.ts';

/** The colours a drawing is made with, by meaning. A value is any CSS colour, a variable too. */
export interface Inks {
  out: string;
  field: string;
  band: string;
  yardLine: string;
  hash: string;
  number: string;
  edge: string;
  scrimmage: string;
  toGain: string;
  offence: string;
  offenceFill: string;
  offenceSoft: string;
  route: string;
  motion: string;
  defence: string;
  reaction: string;
  key: string;
  keyEdge: string;
  /** Letters on the key's mark. */
  onKey: string;
  lit: string;
  before: string;
  select: string;
  stop: string;
  warn: string;
  note: string;
  changed: string;
}
export type Ink = keyof Inks;

/** How one role is painted; widths and dashes in yards. */
export interface Paint {
  fill?: Ink;
  stroke?: Ink;
  width?: number;
  dash?: readonly number[];
  opacity?: number;
  /** Weight of letters. */
  weight?: number;
  /** Letters stand out from the lines they cross by a rim of this ink. */
  rim?: Ink;
}

const line = (stroke: Ink, width: number, more: Paint = {}): Paint => ({ stroke, width, ...more });

/**
 * One table for screen, file and print. What is lit differs in width as well as in colour, and the
 * defence in shape, so a black-and-white print still tells them apart.
 */
export const paints: Record<Role, Paint> = {
  out: { fill: 'out' },
  field: { fill: 'field' },
  band: { fill: 'band' },
  endZone: { fill: 'out', opacity: 0.7 },
  sideline: line('edge', 0.18),
  yardLine: line('yardLine', 0.08),
  hash: line('hash', 0.08),
  fieldNumber: { fill: 'number', weight: 600 },
  scrimmage: line('scrimmage', 0.16),
  lineToGain: line('toGain', 0.1, { dash: [0.7, 0.5] }),
  goalLine: line('edge', 0.3),
  ball: { fill: 'offenceSoft' },
  player: { fill: 'offenceFill', stroke: 'offence', width: 0.15 },
  playerLabel: { fill: 'offence', weight: 700 },
  playerSet: { stroke: 'motion', width: 0.1, dash: [0.28, 0.22] },
  ghost: { stroke: 'offenceSoft', width: 0.09, dash: [0.2, 0.2] },
  route: line('route', 0.2),
  routeEnd: { fill: 'route', stroke: 'route', width: 0.1 },
  break: { fill: 'offenceFill', stroke: 'route', width: 0.11 },
  motion: line('motion', 0.12),
  shift: line('motion', 0.12, { dash: [0.42, 0.3] }),
  motionEnd: { fill: 'motion', stroke: 'motion', width: 0.06 },
  defender: { fill: 'defence', weight: 700, rim: 'field' },
  keyLetter: { fill: 'onKey', weight: 700 },
  reaction: line('reaction', 0.09, { dash: [0.36, 0.28], opacity: 0.7 }),
  reactionEnd: { fill: 'reaction', stroke: 'reaction', width: 0.05, opacity: 0.7 },
  keyReaction: line('keyEdge', 0.16, { dash: [0.5, 0.28] }),
  keyReactionEnd: { fill: 'keyEdge', stroke: 'keyEdge', width: 0.06 },
  keyMark: { fill: 'key', stroke: 'keyEdge', width: 0.13, opacity: 0.92 },
  keyLabel: { fill: 'keyEdge', weight: 700, rim: 'field' },
  branch: line('offenceSoft', 0.13, { dash: [0.3, 0.32] }),
  branchEnd: { fill: 'offenceSoft', stroke: 'offenceSoft', width: 0.06 },
  branchName: { fill: 'offenceSoft', weight: 600, rim: 'field' },
  branchPlain: line('route', 0.17),
  branchPlainEnd: { fill: 'route', stroke: 'route', width: 0.08 },
  branchPlainName: { fill: 'offence', weight: 700, rim: 'field' },
  branchLit: line('lit', 0.38),
  branchLitEnd: { fill: 'lit', stroke: 'lit', width: 0.16 },
  branchLabel: { fill: 'lit', weight: 700, rim: 'field' },
  block: line('offence', 0.2),
  free: line('stop', 0.34),
  freeEnd: { fill: 'stop', stroke: 'stop', width: 0.14 },
  freeLabel: { fill: 'stop', weight: 700, rim: 'field' },
  freeLate: line('note', 0.2, { dash: [0.9, 0.35] }),
  freeLateEnd: { fill: 'note', stroke: 'note', width: 0.1 },
  freeLateLabel: { fill: 'note', weight: 700, rim: 'field' },
  drop: line('route', 0.13, { dash: [0.12, 0.26] }),
  before: line('before', 0.14, { dash: [0.5, 0.34] }),
  beforeEnd: { fill: 'before', stroke: 'before', width: 0.08 },
  beforeLabel: { fill: 'before', weight: 600 },
  haloSelected: line('select', 0.3),
  haloStop: line('stop', 0.28),
  haloWarn: line('warn', 0.28),
  haloNote: line('note', 0.22),
  haloChanged: line('changed', 0.28),
  traceSelected: line('select', 0.62, { opacity: 0.35 }),
  traceStop: line('stop', 0.62, { opacity: 0.4 }),
  traceWarn: line('warn', 0.62, { opacity: 0.4 }),
  traceNote: line('note', 0.62, { opacity: 0.35 }),
  traceChanged: line('changed', 0.62, { opacity: 0.4 }),
};

/** For paper and files: dark ink on white, light enough behind to be written on. */
export const printInks: Inks = {
  out: '#eceff0',
  field: '#ffffff',
  band: '#fafbfb',
  yardLine: '#cfd8d6',
  hash: '#b9c4c1',
  number: '#d5dcda',
  edge: '#8d9a97',
  scrimmage: '#3c6ea8',
  toGain: '#b98a00',
  offence: '#141d1f',
  offenceFill: '#ffffff',
  offenceSoft: '#66767a',
  route: '#0d5a61',
  motion: '#4d6dae',
  defence: '#5c2670',
  reaction: '#9a5bb0',
  key: '#ffe08a',
  keyEdge: '#8a6400',
  onKey: '#141d1f',
  lit: '#d4570a',
  before: '#8c8f94',
  select: '#1a7bd0',
  stop: '#b3231f',
  warn: '#8a5200',
  note: '#43607f',
  changed: '#5b55b8',
};
