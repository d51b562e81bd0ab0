import type { Group, Role } from '@stemline/protocol/roles';

/** Everybody here is invented. The password is printed at start: these accounts are for trying things out. */
export const demoPassword = 'try-stemline';

export interface DemoPerson {
  readonly name: string;
  readonly email: string;
  readonly role: Role;
  readonly group: Group;
}

export const people = {
  dana: person('Dana Whitlock', 'dana', 'headCoach', 'all'),
  marcus: person('Marcus Oyelaran', 'marcus', 'coordinator', 'all'),
  ruth: person('Ruth Lindqvist', 'ruth', 'positionCoach', 'receivers'),
  samir: person('Samir Haddad', 'samir', 'positionCoach', 'line'),
  tomas: person('Tomas Becerra', 'tomas', 'assistant', 'all'),
  eli: person('Eli Navarro', 'eli', 'player', 'receivers'),
} as const satisfies Record<string, DemoPerson>;

export type PersonName = keyof typeof people;

export const demoStaff = 'Alder Point Herons';

/** A second staff, so that anybody can see that one sees nothing of the other. */
export const otherStaff = {
  name: 'Cobble Hill Foxes',
  coach: {
    name: 'June Abara',
    email: 'june@cobblehill.example',
    role: 'headCoach',
    group: 'all',
  } satisfies DemoPerson,
} as const;

function person(name: string, at: string, role: Role, group: Group): DemoPerson {
  return { name, email: `${at}@alderpoint.example`, role, group };
}
