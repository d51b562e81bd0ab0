import { whenSchema } from '@stemline/football/looks/recipe';
import { expect, it } from 'vitest';
import { commonWhens, sameWhen, whenWords } from './when-words.ts';

it('says against which formations a line counts', () => {
  expect(whenWords({})).toBe('Always');
  expect(whenWords({ strong: { from: 3, to: 11 } })).toBe('Against 3 or more receivers strong');
  expect(whenWords({ strong: { from: 2, to: 2 }, tightEnd: 'weak' })).toBe(
    'Against 2 receivers strong and a tight end weak',
  );
  expect(whenWords({ backs: { from: 0, to: 0 } })).toBe('Against no back beside the passer');
  expect(whenWords({ weak: { from: 0, to: 1 } })).toBe('Against at most 1 receiver weak');
});

it('offers usual formations that are valid and differ from each other', () => {
  for (const [index, { when }] of commonWhens.entries()) {
    expect(whenSchema.safeParse(when).success).toBe(true);
    expect(commonWhens.findIndex((one) => sameWhen(one.when, when))).toBe(index);
  }
});
