import { plainText } from '@stemline/football/plain-text';
import { z } from 'zod';
import { groupSchema, roleSchema } from '../roles.ts';

export const staffNameSchema = plainText('A name', 80, 'Give the staff a name.');
export const newStaffSchema = z.strictObject({ name: staffNameSchema });

export const membershipSchema = z.object({
  memberId: z.string(),
  staffId: z.string(),
  staffName: z.string(),
  role: roleSchema,
  group: groupSchema,
});
export type Membership = z.infer<typeof membershipSchema>;

/** Who is signed in, and on which staffs he serves. */
export const meSchema = z.object({
  user: z.object({ id: z.string(), name: z.string(), email: z.string() }),
  memberships: z.array(membershipSchema),
});
export type Me = z.infer<typeof meSchema>;

export const memberSchema = z.object({
  id: z.string(),
  name: z.string(),
  email: z.string(),
  role: roleSchema,
  group: groupSchema,
  since: z.iso.datetime(),
});
export type Member = z.infer<typeof memberSchema>;

export const memberChangeSchema = z.strictObject({ role: roleSchema, group: groupSchema });

export const newInvitationSchema = z.strictObject({ role: roleSchema, group: groupSchema });

export const invitationSchema = z.object({
  id: z.string(),
  role: roleSchema,
  group: groupSchema,
  createdAt: z.iso.datetime(),
  expiresAt: z.iso.datetime(),
  state: z.enum(['open', 'accepted', 'expired', 'withdrawn']),
  acceptedBy: z.string().nullable(),
});
export type Invitation = z.infer<typeof invitationSchema>;

/** The link is shown once, to the one who made it. */
export const madeInvitationSchema = invitationSchema.extend({ link: z.string() });

/** What somebody with the link sees before he accepts. */
export const invitationPreviewSchema = z.object({
  staffName: z.string(),
  role: roleSchema,
  group: groupSchema,
  expiresAt: z.iso.datetime(),
});

export const auditEventSchema = z.object({
  id: z.string(),
  at: z.iso.datetime(),
  name: z.string(),
  what: z.string(),
  boardId: z.string().nullable(),
  boardName: z.string().nullable(),
});
