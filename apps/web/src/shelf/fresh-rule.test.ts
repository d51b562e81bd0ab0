import { type Job, jobSchema, type Stand, standSchema } from '@stemline/football/looks/recipe';
import { describe, expect, it } from 'vitest';
import { isAnchor, jobOfKind, standOfKind } from './fresh-rule.ts';

const standKinds: readonly Stand['kind'][] = standSchema.options.map((one) => one.shape.kind.value);
const jobKinds: readonly Job['kind'][] = jobSchema.options.map((one) => one.shape.kind.value);

describe('changing the kind of a place', () => {
  it.each(standKinds.flatMap((from) => standKinds.map((to) => [from, to] as const)))(
    'from %s to %s gives a place that can be saved',
    (from, to) => {
      const start = standOfKind(from, {
        kind: 'technique',
        side: 'weak',
        technique: '3',
        depth: 4.5,
      });
      const changed = standOfKind(to, start);
      expect(changed.kind).toBe(to);
      expect(standSchema.safeParse(changed).success).toBe(true);
    },
  );
  it('keeps the side', () => {
    expect(
      standOfKind('apex', { kind: 'over', side: 'weak', receiver: 3, inside: 1, depth: 5 }),
    ).toMatchObject({
      side: 'weak',
      receiver: 3,
    });
  });
  it('knows which places need nobody of the offence', () => {
    const start: Stand = { kind: 'onMan', inside: 1, depth: 5 };
    expect(standKinds.filter((kind) => isAnchor(standOfKind(kind, start)))).toEqual([
      'technique',
      'edge',
      'post',
      'shell',
      'fromBall',
    ]);
  });
});

it.each(jobKinds.flatMap((from) => jobKinds.map((to) => [from, to] as const)))(
  'changing a job from %s to %s gives one that can be saved',
  (from, to) => {
    const changed = jobOfKind(to, jobOfKind(from, { kind: 'zone', zone: 'flat', side: 'weak' }));
    expect(changed.kind).toBe(to);
    expect(jobSchema.safeParse(changed).success).toBe(true);
  },
);
