import { expect, it } from 'vitest';
import { localPath } from './local-path.ts';

it.each(['/', '/boards/abc', '/join/token?x=1#y'])('goes on to %s', (path) => {
  expect(localPath.safeParse(path).success).toBe(true);
});

it.each([
  '//evil.example',
  '/\\evil.example',
  'https://evil.example',
  'javascript:alert(1)',
  '',
  '/a\nb',
  '/a\\b',
])('refuses %j, which leaves the site', (path) => {
  expect(localPath.safeParse(path).success).toBe(false);
});
