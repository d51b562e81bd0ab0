import { type Action, may } from '@stemline/protocol/permissions';
import type { Role } from '@stemline/protocol/roles';

/** The places of a staff, in the order of the menu, each with the right that opens it. */
const places = [
  { id: 'book', label: 'Book', to: '/staffs/$staffId', needs: 'book.read' },
  { id: 'looks', label: 'Look shelf', to: '/staffs/$staffId/looks', needs: 'look.read' },
  {
    id: 'waiting',
    label: 'Waiting for you',
    to: '/staffs/$staffId/waiting',
    needs: 'change.decide',
  },
  { id: 'staff', label: 'Staff', to: '/staffs/$staffId/members', needs: 'member.read' },
] as const satisfies readonly { id: string; label: string; to: string; needs: Action }[];

export type Place = (typeof places)[number];

export const placesFor = (role: Role): readonly Place[] =>
  places.filter((place) => may(role, place.needs));
