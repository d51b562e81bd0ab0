import type { MantineColorsTuple } from '@mantine/core';

/** The stem: a deep petrol. Links, main buttons, what is selected. */
export const stem: MantineColorsTuple = [
  '#e8f4f4',
  '#d0e7e8',
  '#a6d2d4',
  '#78bbbe',
  '#4ba4a8',
  '#278a90',
  '#156f76',
  '#0d5a61',
  '#0a474d',
  '#06343a',
];

/** The break: pylon orange. Kept for the one thing on a screen that has to be seen. */
export const pylon: MantineColorsTuple = [
  '#fff1e6',
  '#ffdfc7',
  '#ffc195',
  '#ff9f5c',
  '#fb832f',
  '#f06a12',
  '#d4570a',
  '#b14607',
  '#8c3808',
  '#6b2b08',
];

/** What stops or cannot be undone. The fourth and the eighth are those of a finding that stops a play. */
export const red: MantineColorsTuple = [
  '#fdebea',
  '#fbd3d0',
  '#f9b3ae',
  '#ff8d85',
  '#ee6b62',
  '#d94a42',
  '#c6352f',
  '#b3231f',
  '#8f1a17',
  '#6b1311',
];

/** Greys with a little of the stem in them, so that nothing looks dead beside it. */
export const gray: MantineColorsTuple = [
  '#f5f8f8',
  '#ecf1f1',
  '#e0e7e7',
  '#cfd8d9',
  '#b2bebf',
  '#899798',
  '#667576',
  '#4a5859',
  '#313e40',
  '#1a2426',
];

/** Dark scheme: text first, ground last. */
export const dark: MantineColorsTuple = [
  '#dbe3e3',
  '#b9c4c5',
  '#9aa8aa',
  '#76868a',
  '#445256',
  '#334044',
  '#253034',
  '#182125',
  '#11191c',
  '#0b1113',
];
