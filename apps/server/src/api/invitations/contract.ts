import { createRoute, z } from '@hono/zod-openapi';
import {
  invitationPreviewSchema,
  invitationSchema,
  madeInvitationSchema,
  membershipSchema,
  newInvitationSchema,
} from '@stemline/protocol/api/staffs';
import { needs } from '../needs.ts';
import { invitationParam, staffParam, tokenParam } from '../params.ts';
import { body, conflict, gone, invalid, json, nothing, refusals } from '../responses.ts';

export const list = createRoute({
  method: 'get',
  path: '/api/staffs/{staff}/invitations',
  tags: ['staffs'],
  ...needs.staff('member.invite'),
  request: { params: staffParam },
  responses: { 200: json(z.array(invitationSchema), 'Newest first.'), ...refusals },
});

/** The answer holds the link, this once. */
export const make = createRoute({
  method: 'post',
  path: '/api/staffs/{staff}/invitations',
  tags: ['staffs'],
  ...needs.staff('member.invite'),
  request: { params: staffParam, body: body(newInvitationSchema) },
  responses: {
    201: json(madeInvitationSchema, 'With the link to send.'),
    ...refusals,
    ...invalid,
    ...conflict('full'),
  },
});

export const withdraw = createRoute({
  method: 'delete',
  path: '/api/staffs/{staff}/invitations/{invitation}',
  tags: ['staffs'],
  ...needs.staff('member.invite'),
  request: { params: invitationParam },
  responses: { 204: nothing, ...refusals, ...gone },
});

/** For whoever holds the link, signed in or not. */
export const preview = createRoute({
  method: 'get',
  path: '/api/invitations/{token}',
  tags: ['staffs'],
  request: { params: tokenParam },
  responses: {
    200: json(invitationPreviewSchema, 'What it offers.'),
    404: refusals[404],
    ...gone,
    ...invalid,
  },
});

/** Single use: joins whoever is signed in to the staff. */
export const accept = createRoute({
  method: 'post',
  path: '/api/invitations/{token}/accept',
  tags: ['staffs'],
  ...needs.signedIn(),
  request: { params: tokenParam },
  responses: {
    200: json(membershipSchema, 'The new membership.'),
    ...refusals,
    ...invalid,
    ...gone,
    ...conflict('alreadyMember'),
  },
});
