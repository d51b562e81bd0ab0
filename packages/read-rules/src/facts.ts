import { type FactName, factNameSchema } from './fact-name.ts';
import type { FactDeclaration } from './facts/declaration.ts';
import { cushion, keyDepth, keyMove, keyOffset, keyRushes, manOutside } from './facts/key-facts.ts';
import { coverage, front, middle, mikeLean, rushers, shell } from './facts/look-facts.ts';
import { downGroupFact, fieldZoneFact, receiversThisSide } from './facts/play-facts.ts';
import { roomInside, roomOutside } from './facts/room-facts.ts';

/** Every fact a row may ask about. A new one is a name in `fact-name.ts` and an entry here. */
export const facts: Readonly<Record<FactName, FactDeclaration>> = {
  keyOffset,
  keyDepth,
  keyMove,
  cushion,
  roomInside,
  roomOutside,
  manOutside,
  keyRushes,
  front,
  shell,
  middle,
  coverage,
  rushers,
  mikeLean,
  receiversThisSide,
  fieldZone: fieldZoneFact,
  downGroup: downGroupFact,
};

/** In the order in which screens and sentences name them. */
export const factNames: readonly FactName[] = factNameSchema.options;
