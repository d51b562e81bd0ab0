import { describe, expect, it } from 'vitest';
import { absoluteLink, tokenIn } from './invitation-link.ts';

const token = 'Zk3_abcDEF-0123456789xyz';

describe('a pasted invitation', () => {
  it.each([
    `https://stemline.example/join/${token}`,
    `http://localhost:4600/join/${token}/?from=mail`,
    `  ${token} `,
  ])('gives its token: %s', (pasted) => {
    expect(tokenIn(pasted)).toBe(token);
  });
  it.each(['', 'hello', 'https://stemline.example/boards/abc', `/elsewhere/${token}`])(
    'gives nothing: %j',
    (pasted) => {
      expect(tokenIn(pasted)).toBeNull();
    },
  );
});

describe('a link to copy', () => {
  it('is whole, whatever the server answered', () => {
    expect(absoluteLink(`/join/${token}`, 'http://127.0.0.1:4600')).toBe(
      `http://127.0.0.1:4600/join/${token}`,
    );
    expect(absoluteLink(`https://a.example/join/${token}`, 'http://127.0.0.1:4600')).toBe(
      `https://a.example/join/${token}`,
    );
  });
});
