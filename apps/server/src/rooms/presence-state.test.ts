import { Buffer } from 'node:buffer';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { signed } from './presence-state.ts';

const ann = { id: 'member-ann', name: 'Ann "the arm" Ames' };
const of = (text: string) => signed(ann, new Uint8Array(Buffer.from(text)));
const color = expect.stringMatching(/^#[0-9a-f]{6}$/);
const who = { id: ann.id, name: ann.name, color };

describe('R40 the server writes who somebody is', () => {
  it("whatever object a state is, it comes back with the server's word and else as it was", () => {
    const key = fc.oneof(fc.string(), fc.constantFrom('member', 'user', 'cursor', '"', '}'));
    const states = fc.dictionary(key, fc.jsonValue(), { noNullPrototype: true });
    const spaces = fc.constantFrom(undefined, 1, '\t');
    fc.assert(
      fc.property(states, spaces, fc.constantFrom('', ' ', '\n'), (state, space, end) => {
        const read = JSON.parse(of(JSON.stringify(state, null, space) + end) ?? '');
        const user = 'user' in state ? { user: { name: ann.name, color } } : {};
        const plain = JSON.parse(JSON.stringify(state));
        expect(read).toEqual({ ...plain, ...user, member: who });
      }),
    );
  });

  it('another name in it is written over, however it is spelled', () => {
    expect(JSON.parse(of('{"m\\u0065mber":{"name":"Bob"},"a":1}') ?? '')).toEqual({
      a: 1,
      member: who,
    });
    expect(JSON.parse(of('{"member":1,"a":1,"member":2}') ?? '')).toEqual({ a: 1, member: who });
  });

  it('who left shows nothing, and what is no object is no state', () => {
    expect(of('null')).toBeNull();
    for (const text of ['', '1', '"a"', '[]', '[{}]', '{', '{}}', 'true'])
      expect(of(text), text).toBeUndefined();
  });
});
