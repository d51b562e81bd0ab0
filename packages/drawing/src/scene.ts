import type { Point } from '@stemline/football/geometry';
import type { DefenderId, PlayerId } from '@stemline/football/ids';
import type { Role } from './role.ts';

/** A rectangle of the field in yards; `bottom` is its offensive edge (y grows downfield). */
export interface View {
  left: number;
  bottom: number;
  width: number;
  height: number;
}

/** One stroke of a path: straight to a point, or a quadratic bend through a control point. */
export type Step = { to: Point } | { to: Point; bend: Point };

/** What a scene is made of. All coordinates and sizes are yards of the field's frame. */
export type Primitive =
  | { kind: 'rect'; view: View; role: Role }
  /** Many straight marks of one role: yard lines, hash marks. */
  | { kind: 'marks'; marks: readonly (readonly [Point, Point])[]; role: Role }
  | { kind: 'path'; from: Point; steps: readonly Step[]; role: Role }
  | { kind: 'polygon'; points: readonly Point[]; role: Role }
  | { kind: 'circle'; at: Point; radius: number; role: Role }
  | { kind: 'square'; at: Point; half: number; role: Role }
  | { kind: 'ellipse'; at: Point; rx: number; ry: number; role: Role }
  | {
      kind: 'text';
      at: Point;
      text: string;
      /** Height of the letters' body in yards. */
      size: number;
      /** Clockwise degrees. */
      turn: number;
      anchor: 'start' | 'middle' | 'end';
      role: Role;
    };

/** What a group of primitives stands for, so that a screen can make it touchable. */
export type Subject =
  | { kind: 'field' }
  | { kind: 'player'; player: PlayerId }
  | { kind: 'route'; player: PlayerId }
  | { kind: 'motion'; player: PlayerId }
  | { kind: 'defender'; defender: DefenderId }
  | { kind: 'reaction'; defender: DefenderId }
  | { kind: 'path'; path: string }
  | { kind: 'block' | 'drop'; player: PlayerId }
  | { kind: 'free'; defender: DefenderId }
  | { kind: 'before'; player: PlayerId }
  | { kind: 'ghost'; player: PlayerId };

export interface Group {
  /** Unique in the scene and stable from one scene to the next. */
  id: string;
  subject: Subject;
  items: readonly Primitive[];
}

/** A drawing of one play in yards, back to front. It knows roles, no colours. */
export interface Scene {
  view: View;
  groups: readonly Group[];
}
