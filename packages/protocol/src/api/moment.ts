import { z } from 'zod';

/** The store's calendar has no year 0; from the second day of year 1 on no time zone leads back there. */
const first = '0001-01-02';

/** A time that somebody sends, one that the store can keep. `offset`: it may be of any time zone. */
export const momentSchema = ({ offset }: { offset: boolean }) =>
  z.iso.datetime({ offset }).refine((text) => text >= first, 'Time begins with the year 1 here.');
