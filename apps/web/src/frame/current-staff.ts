import type { Me, Membership } from '@stemline/protocol/api/staffs';

const remembered = 'stemline.staff';

/** The staff that was open last in this browser. */
export const rememberStaff = (staffId: string): void => localStorage.setItem(remembered, staffId);

/** Where somebody who just came in should land: the staff he last had open, else his first. */
export function homeStaff(me: Me): Membership | undefined {
  const last = localStorage.getItem(remembered);
  return me.memberships.find((membership) => membership.staffId === last) ?? me.memberships[0];
}
