import { z } from '@hono/zod-openapi';

/** As the store makes them; anything else is nobody's. */
const id = z.string().regex(/^[A-Za-z0-9_-]{1,40}$/, 'this is not an id');

export const staffParam = z.object({ staff: id });
export const boardParam = z.object({ board: id });
export const threadParam = z.object({ thread: id });
export const commentParam = z.object({ comment: id });
export const changeParam = z.object({ change: id });
export const versionParam = z.object({ version: id });
export const memberParam = staffParam.extend({ member: id });
export const invitationParam = staffParam.extend({ invitation: id });
export const lookParam = staffParam.extend({ look: id });
/** 32 random bytes in base64url. */
export const tokenParam = z.object({
  token: z.string().regex(/^[A-Za-z0-9_-]{43}$/, 'this is not a whole link'),
});
