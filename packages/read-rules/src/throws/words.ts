import type { Element } from '../finding.ts';
import type { PlannedThrow } from './planned.ts';
import type { Way } from './ways.ts';

/** What findings about throws say alike. */

/** "H’s IN", "Z’s In behind". */
export const nameOf = (planned: PlannedThrow): string =>
  `${planned.receiver.label}'s ${wayName(planned)}`;

/** "IN", or what his route is called. */
export function wayName({ choice, receiver, alone }: PlannedThrow): string {
  if (choice) return choice.branch.name;
  const route = alone.routes[receiver.id];
  return route?.name ? route.name : 'route';
}

/** A branch of his card, or his route. */
export const elementOf = ({ choice, receiver }: PlannedThrow): Element =>
  choice
    ? { kind: 'branch', player: receiver.id, branch: choice.branch.id }
    : { kind: 'route', player: receiver.id };

/** For a finding's id: the player, and the branch of his card. */
export const placeOf = ({ choice, receiver }: PlannedThrow): readonly string[] => [
  receiver.id,
  choice ? choice.branch.id : 'route',
];

/** "3 of the 24 looks". */
export const ofLooks = (pictures: readonly Way[], looks: number): string =>
  `${new Set(pictures.map(({ look }) => look.id)).size} of the ${looks} looks`;

/** "2.5 s", "0.35 s". */
export const seconds = (n: number): string => {
  const short = Number(n.toFixed(2));
  return `${Number.isInteger(short * 10) ? short.toFixed(1) : short.toFixed(2)} s`;
};
