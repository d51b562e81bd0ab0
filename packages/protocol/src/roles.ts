import { z } from 'zod';

export const roleSchema = z.enum([
  'headCoach',
  'coordinator',
  'positionCoach',
  'assistant',
  'player',
]);
export type Role = z.infer<typeof roleSchema>;

/** Whose positions a position coach answers for. `all` is for those who own the whole board. */
export const groupSchema = z.enum([
  'all',
  'line',
  'receivers',
  'tightEnds',
  'backs',
  'quarterbacks',
]);
export type Group = z.infer<typeof groupSchema>;

export const roleNames: Record<Role, string> = {
  headCoach: 'Head coach',
  coordinator: 'Coordinator',
  positionCoach: 'Position coach',
  assistant: 'Assistant',
  player: 'Player',
};
export const groupNames: Record<Group, string> = {
  all: 'Whole offense',
  line: 'Line',
  receivers: 'Receivers',
  tightEnds: 'Tight ends',
  backs: 'Backs',
  quarterbacks: 'Quarterbacks',
};
