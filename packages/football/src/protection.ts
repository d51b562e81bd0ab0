import { z } from 'zod';

/** How the five inside block: nobody, the far ones, or all of them take the next gap to one side. */
export const slideSchema = z.enum(['none', 'half', 'full']);
export type Slide = z.infer<typeof slideSchema>;

/** A man who blocks beside the five, told by where he lines up. */
export const helperSchema = z.strictObject({
  who: z.enum(['back1', 'back2', 'endAway', 'endToward']),
  /** Whom he looks at first: the inside man, or the one off the edge. */
  scan: z.enum(['insideOut', 'outsideIn']),
  /** He goes out on his route when nobody comes for him. */
  releases: z.boolean(),
});
export type Helper = z.infer<typeof helperSchema>;

/** A protection as it is taught; which way it slides is part of the call on a play. */
export const protectionSchema = z.strictObject({
  id: z.string().regex(/^[A-Za-z0-9_-]{1,40}$/, 'an id is 1 to 40 letters, digits, - or _'),
  name: z.string().trim().min(1).max(60),
  slide: slideSchema,
  helpers: z.array(helperSchema).max(3).readonly(),
});
export type Protection = z.infer<typeof protectionSchema>;

const checks = (who: Helper['who'], scan: Helper['scan'] = 'insideOut'): Helper => ({
  who,
  scan,
  releases: true,
});
const stays = (who: Helper['who'], scan: Helper['scan'] = 'outsideIn'): Helper => ({
  who,
  scan,
  releases: false,
});

/** Five, six and seven men. Common practice, no single source; a staff gives them names of its own. */
export const protections: readonly Protection[] = [
  { id: 'five-full', name: 'Five men, full slide', slide: 'full', helpers: [] },
  { id: 'five-half', name: 'Five men, half slide', slide: 'half', helpers: [] },
  { id: 'five-man', name: 'Five men, man on man', slide: 'none', helpers: [] },
  {
    id: 'six-half',
    name: 'Six men, half slide, back away from it',
    slide: 'half',
    helpers: [checks('back1')],
  },
  {
    id: 'six-full',
    name: 'Six men, full slide, back on the edge away from it',
    slide: 'full',
    helpers: [checks('back1', 'outsideIn')],
  },
  {
    id: 'six-end',
    name: 'Six men, half slide, end stays',
    slide: 'half',
    helpers: [stays('endAway')],
  },
  {
    id: 'seven-backs',
    name: 'Seven men, half slide, both backs check',
    slide: 'half',
    helpers: [checks('back1'), checks('back2')],
  },
  {
    id: 'seven-end',
    name: 'Seven men, half slide, back checks and end stays',
    slide: 'half',
    helpers: [checks('back1'), stays('endAway')],
  },
];

/** Which protection a play uses, and which way it slides. */
export const protectionCallSchema = z.strictObject({
  id: z
    .string()
    .refine((id) => protections.some((one) => one.id === id), 'there is no such protection'),
  toward: z.enum(['left', 'right']),
});
export type ProtectionCall = z.infer<typeof protectionCallSchema>;

/** The protection of a call; null where none is called, or none has its id. */
export const protectionOf = (call: ProtectionCall | undefined): Protection | null =>
  protections.find(({ id }) => id === call?.id) ?? null;
