import { z } from 'zod';

/**
 * How far a number can be trusted: read in the source named; read in a page that quotes it; worked
 * out from such numbers by the formula named; from memory, to be confirmed; common practice with no
 * single source; our judgement where nothing was found.
 */
export const provenanceSchema = z.enum([
  'read',
  'secondHand',
  'computed',
  'memory',
  'commonPractice',
  'judgement',
]);
export type Provenance = z.infer<typeof provenanceSchema>;

/** A number that a staff may edit: the value used, the band it lies in, and where it comes from. */
export const sourcedSchema = z
  .strictObject({
    from: z.number(),
    value: z.number(),
    to: z.number(),
    /** As written beside the number on a screen: 'yd', 's', 'yd/s', '°', or '' for a pure number. */
    unit: z.string().max(12),
    provenance: provenanceSchema,
    source: z.string().min(1).max(300),
  })
  .refine(({ from, value, to }) => from <= value && value <= to, 'the value lies outside its band');
export type Sourced = z.infer<typeof sourcedSchema>;
