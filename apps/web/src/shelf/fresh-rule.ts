import type { Anchor, Job, ManJob, Stand } from '@stemline/football/looks/recipe';

/** A place of another kind that keeps what the two have in common: side, receiver, depth. */
export function standOfKind(kind: Stand['kind'], from: Stand): Stand {
  const { depth } = from;
  const side = 'side' in from ? from.side : 'strong';
  const receiver = 'receiver' in from ? from.receiver : 2;
  switch (kind) {
    case 'technique':
      return { kind, side, technique: '5', depth };
    case 'edge':
      return { kind, side, yards: 1.5, depth };
    case 'post':
      return { kind, depth: Math.max(depth, 12) };
    case 'shell':
      return { kind, side, depth: Math.max(depth, 11) };
    case 'fromBall':
      return { kind, side, yards: 'yards' in from ? Math.max(0, from.yards) : 8, depth };
    case 'over':
      return { kind, side, receiver, inside: 1, depth };
    case 'apex':
      return { kind, side, receiver, toward: 'outside', depth };
    case 'onMan':
      return { kind, inside: 1, depth };
  }
}

export const anchorKinds = [
  'technique',
  'edge',
  'shell',
  'post',
  'fromBall',
] as const satisfies readonly Anchor['kind'][];

/** A place that needs nobody of the offence to be anywhere. */
export const isAnchor = (stand: Stand): stand is Anchor =>
  anchorKinds.some((kind) => kind === stand.kind);

/** A job of another kind that keeps side and receiver. */
export function jobOfKind(kind: Job['kind'], from: Job): Job {
  const side = 'side' in from ? from.side : 'strong';
  const free: ManJob['free'] = { kind: 'zone', zone: 'hook', side };
  switch (kind) {
    case 'rush':
      return { kind };
    case 'zone':
      return { kind, zone: 'hook', side };
    case 'man':
      return { kind, takes: ['strong1'], free };
    case 'wall':
      return { kind, side, receiver: 2 };
  }
}
