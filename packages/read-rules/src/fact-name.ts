import { z } from 'zod';

/** Every fact a row may ask about; `facts/` declares what each means, its domain and when it can be seen. */
export const factNameSchema = z.enum([
  'keyOffset',
  'keyDepth',
  'keyMove',
  'cushion',
  'roomInside',
  'roomOutside',
  'manOutside',
  'keyRushes',
  'front',
  'shell',
  'middle',
  'coverage',
  'rushers',
  'mikeLean',
  'receiversThisSide',
  'fieldZone',
  'downGroup',
]);
export type FactName = z.infer<typeof factNameSchema>;
