import { expect, it } from 'vitest';
import { initials } from './initials.ts';

it.each([
  ['Tamsin Hallowell', 'TH'],
  ['Rook', 'R'],
  ['Ana Maria de la Cruz', 'AC'],
  ['  ola  ', 'O'],
  ['', ''],
  ['𝒜da Ø', '𝒜Ø'],
])('"%s" is "%s"', (name, letters) => {
  expect(initials(name)).toBe(letters);
});
