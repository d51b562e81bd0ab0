import {
  invitationPreviewSchema,
  invitationSchema,
  madeInvitationSchema,
  memberSchema,
  meSchema,
} from '@stemline/protocol/api/staffs';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { z } from 'zod';
import { startApp, type TestApp } from '../testing/app.ts';
import type { Person } from '../testing/person.ts';
import { invite } from './invite.ts';
import { changeMember, removeMember } from './member-change.ts';
import { standingOn } from './standing.ts';

let stage: TestApp;
let head: Person;
let staff: string;

beforeAll(async () => {
  stage = await startApp();
  head = await stage.person('Head');
  staff = await head.foundsStaff('Alder');
});

async function makesLink(by: Person, role = 'assistant', group = 'all') {
  const made = await by.gets(madeInvitationSchema, 'POST', `/api/staffs/${staff}/invitations`, {
    role,
    group,
  });
  const token = made.link.split('/').at(-1) ?? '';
  return {
    ...made,
    token,
    accept: `/api/invitations/${token}/accept`,
    preview: `/api/invitations/${token}`,
  };
}

describe('an invitation', () => {
  it('shows what it offers to whoever holds the link, and joins him as that', async () => {
    const { link, preview, accept } = await makesLink(head, 'positionCoach', 'receivers');
    expect(link).toMatch(/^http:\/\/stemline\.test\/join\/[\w-]{43}$/);
    const offer = await stage.stranger().gets(invitationPreviewSchema, 'GET', preview);
    expect(offer).toMatchObject({ staffName: 'Alder', role: 'positionCoach', group: 'receivers' });
    expect(Date.parse(offer.expiresAt) - Date.now()).toBeGreaterThan(6.9 * 24 * 3600 * 1000);
    const ruth = await stage.person('Ruth');
    await ruth.gets(z.object({ memberId: z.string() }), 'POST', accept);
    const me = await ruth.gets(meSchema, 'GET', '/api/me');
    expect(me.memberships).toMatchObject([
      { staffId: staff, role: 'positionCoach', group: 'receivers' },
    ]);
  });

  it('needs somebody signed in to accept it', async () => {
    const { accept } = await makesLink(head);
    await stage.stranger().isRefused(401, 'POST', accept, undefined, 'notSignedIn');
  });

  it('lets in one person, also when two come at once', async () => {
    const { accept, preview } = await makesLink(head);
    const two = await Promise.all([stage.person('First'), stage.person('Second')]);
    const answers = await Promise.all(two.map((one) => one.ask('POST', accept)));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 410]);
    const third = await stage.person('Third');
    await third.isRefused(410, 'POST', accept, undefined, 'gone');
    await third.isRefused(410, 'GET', preview, undefined, 'gone');
  });

  it('is good for seven days', async () => {
    const { id, accept } = await makesLink(head);
    await stage.prisma.invitation.update({
      where: { id },
      data: { expiresAt: new Date(Date.now() - 1) },
    });
    await (await stage.person('Late')).isRefused(410, 'POST', accept, undefined, 'gone');
    const list = await head.gets(
      z.array(invitationSchema),
      'GET',
      `/api/staffs/${staff}/invitations`,
    );
    expect(list.find((one) => one.id === id)?.state).toBe('expired');
  });

  it('can be withdrawn while it is open', async () => {
    const { id, accept } = await makesLink(head);
    await head.does('DELETE', `/api/staffs/${staff}/invitations/${id}`);
    await (await stage.person('Unlucky')).isRefused(410, 'POST', accept, undefined, 'gone');
    await head.isRefused(410, 'DELETE', `/api/staffs/${staff}/invitations/${id}`);
  });

  it('is stored as a hash only', async () => {
    const { token, id } = await makesLink(head);
    const row = await stage.prisma.invitation.findUniqueOrThrow({ where: { id } });
    expect(JSON.stringify(row)).not.toContain(token);
    expect(row.tokenHash).toMatch(/^[0-9a-f]{64}$/);
  });

  it('leaves the link good when a member of the staff tries it', async () => {
    const { accept } = await makesLink(head);
    await head.isRefused(409, 'POST', accept, undefined, 'alreadyMember');
    await (await stage.person('Meant')).gets(z.object({ memberId: z.string() }), 'POST', accept);
  });

  it('to be head coach comes from a head coach only', async () => {
    const coordinator = await stage.person('Coordinator');
    await head.letsJoin(coordinator, staff, 'coordinator');
    await coordinator.isRefused(403, 'POST', `/api/staffs/${staff}/invitations`, {
      role: 'headCoach',
      group: 'all',
    });
    await makesLink(coordinator, 'coordinator');
    await makesLink(head, 'headCoach');
  });

  it('goes with who made it when he is removed: he comes back by no link of his own', async () => {
    const kit = await stage.person('Kit');
    const kitsId = await head.letsJoin(kit, staff, 'headCoach');
    const own = await makesLink(kit, 'headCoach');
    const used = await makesLink(kit, 'assistant');
    await (await stage.person('Len')).gets(z.object({}), 'POST', used.accept);
    await head.does('DELETE', `/api/staffs/${staff}/members/${kitsId}`);
    await kit.isRefused(410, 'POST', own.accept, undefined, 'gone');
    await (await stage.person('Friend')).isRefused(410, 'POST', own.accept, undefined, 'gone');
    const list = await head.gets(
      z.array(invitationSchema),
      'GET',
      `/api/staffs/${staff}/invitations`,
    );
    const stateOf = (id: string) => list.find((one) => one.id === id)?.state;
    expect([own.id, used.id].map(stateOf)).toEqual(['withdrawn', 'accepted']);
  });

  it('goes when who made it may make such a one no longer, and stays when he may', async () => {
    const mia = await stage.person('Mia');
    const miasId = await head.letsJoin(mia, staff, 'headCoach');
    const [toLead, toHelp] = [await makesLink(mia, 'headCoach'), await makesLink(mia)];
    const becomes = (role: string) =>
      head.does('PATCH', `/api/staffs/${staff}/members/${miasId}`, { role, group: 'all' });
    await becomes('coordinator');
    await stage.stranger().isRefused(410, 'GET', toLead.preview, undefined, 'gone');
    await stage.stranger().gets(invitationPreviewSchema, 'GET', toHelp.preview);
    await becomes('player');
    await stage.stranger().isRefused(410, 'GET', toHelp.preview, undefined, 'gone');
  });

  it('makes one membership of two links that one person follows at once', async () => {
    for (const name of ['Ned', 'Ona', 'Pia', 'Quin']) {
      const links = await Promise.all(
        ['headCoach', 'coordinator', 'assistant', 'player'].map((role) => makesLink(head, role)),
      );
      const person = await stage.person(name);
      const answers = await Promise.all(links.map(({ accept }) => person.ask('POST', accept)));
      expect(answers.map(({ status }) => status).sort()).toEqual([200, 409, 409, 409]);
      const accepted = answers.find(({ status }) => status === 200)?.text ?? '';
      const me = await person.gets(meSchema, 'GET', '/api/me');
      expect(me.memberships).toMatchObject([JSON.parse(accepted)]);
    }
  });

  it('that nobody made is not there', async () => {
    await stage.stranger().isRefused(404, 'GET', `/api/invitations/${'A'.repeat(43)}`);
    await stage.stranger().isRefused(422, 'GET', '/api/invitations/short');
  });
});

describe('a member', () => {
  it('may serve on several staffs', async () => {
    const both = await stage.person('Both');
    await both.foundsStaff('Birch');
    await head.letsJoin(both, staff, 'assistant');
    const me = await both.gets(meSchema, 'GET', '/api/me');
    expect(me.memberships.map(({ staffName, role }) => [staffName, role])).toEqual([
      ['Birch', 'headCoach'],
      ['Alder', 'assistant'],
    ]);
  });

  it('who is removed is out at once, is told so in his rooms, and may come back by a new link', async () => {
    const told = vi.spyOn(stage.rooms, 'accessChanged');
    const fay = await stage.person('Fay');
    const memberId = await head.letsJoin(fay, staff, 'coordinator');
    await fay.gets(z.array(memberSchema), 'GET', `/api/staffs/${staff}/members`);
    await head.does('DELETE', `/api/staffs/${staff}/members/${memberId}`);
    expect(told).toHaveBeenLastCalledWith({ memberId });
    await fay.isRefused(404, 'GET', `/api/staffs/${staff}/members`);
    expect(await head.letsJoin(fay, staff, 'assistant')).toBe(memberId);
    const members = await fay.gets(z.array(memberSchema), 'GET', `/api/staffs/${staff}/members`);
    expect(members.find(({ id }) => id === memberId)?.role).toBe('assistant');
    told.mockRestore();
  });

  it('changes role by the head coach, and his rooms are told', async () => {
    const told = vi.spyOn(stage.rooms, 'accessChanged');
    const gus = await stage.person('Gus');
    const memberId = await head.letsJoin(gus, staff, 'assistant');
    await head.does('PATCH', `/api/staffs/${staff}/members/${memberId}`, {
      role: 'positionCoach',
      group: 'line',
    });
    expect(told).toHaveBeenLastCalledWith({ memberId });
    const me = await gus.gets(meSchema, 'GET', '/api/me');
    expect(me.memberships).toMatchObject([{ role: 'positionCoach', group: 'line' }]);
    told.mockRestore();
  });

  it('cannot be changed through another staff', async () => {
    const hal = await stage.person('Hal');
    const memberId = await head.letsJoin(hal, staff, 'assistant');
    const other = await hal.foundsStaff('Cedar');
    await hal.isRefused(404, 'DELETE', `/api/staffs/${other}/members/${memberId}`);
  });

  it('who was removed or demoted while his request was under way does nothing more with it', async () => {
    const ray = await stage.person('Ray');
    const raysId = await head.letsJoin(ray, staff, 'headCoach');
    const { user } = await ray.gets(meSchema, 'GET', '/api/me');
    /** As the request found it when it came in. */
    const standing = await standingOn(stage.prisma, user, staff);
    if (!standing) throw new Error('he is on the staff');
    const otherId = await head.letsJoin(await stage.person('Sid'), staff, 'assistant');
    const asHead = { role: 'headCoach', group: 'all' } as const;
    const triesComeTo = (kind: string) =>
      expect(
        Promise.allSettled([
          invite(stage.prisma, standing, asHead),
          changeMember(stage.prisma, standing, otherId, asHead),
          removeMember(stage.prisma, standing, otherId),
        ]),
      ).resolves.toMatchObject(Array(3).fill({ status: 'rejected', reason: { kind } }));
    await head.does('PATCH', `/api/staffs/${staff}/members/${raysId}`, {
      role: 'coordinator',
      group: 'all',
    });
    await triesComeTo('notAllowed');
    await head.does('DELETE', `/api/staffs/${staff}/members/${raysId}`);
    await triesComeTo('notFound');
    const other = await stage.prisma.member.findUniqueOrThrow({ where: { id: otherId } });
    expect(other).toMatchObject({ role: 'assistant', removedAt: null });
  });

  it('who is the last head coach stays, however many try at once', async () => {
    const ivy = await stage.person('Ivy');
    const own = await ivy.foundsStaff('Dogwood');
    const jon = await stage.person('Jon');
    const jonsId = await ivy.letsJoin(jon, own, 'headCoach');
    const me = await ivy.gets(meSchema, 'GET', '/api/me');
    const ivysId = me.memberships[0]?.memberId;
    const answers = await Promise.all([
      ivy.ask('DELETE', `/api/staffs/${own}/members/${jonsId}`),
      jon.ask('DELETE', `/api/staffs/${own}/members/${ivysId}`),
    ]);
    expect(answers.filter(({ status }) => status === 204)).toHaveLength(1);
    const left = await stage.prisma.member.findMany({ where: { staffId: own, removedAt: null } });
    expect(left.map(({ role }) => role)).toEqual(['headCoach']);
    const last = left[0]?.id === jonsId ? jon : ivy;
    await last.isRefused(
      409,
      'DELETE',
      `/api/staffs/${own}/members/${left[0]?.id}`,
      undefined,
      'lastHeadCoach',
    );
    await last.isRefused(
      409,
      'PATCH',
      `/api/staffs/${own}/members/${left[0]?.id}`,
      { role: 'assistant', group: 'all' },
      'lastHeadCoach',
    );
  });
});
