import { technique } from '../looks/rule.ts';
import { boxDepth, type Front } from './front.ts';
import { over } from './over.ts';

/** Four down, one linebacker over the ball, six backs: 4-1-6. */
export const dime: Front = { ...over, mike: technique('strong', '0', boxDepth) };
