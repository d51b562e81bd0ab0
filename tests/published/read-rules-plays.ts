import { readFileSync } from 'node:fs';
import { type RuledPlay, ruledPlaySchema } from '@stemline/read-rules/ruled-play';

/** A play of our own from `plays/`, as `npm run check` reads it. */
export function readPlay(name: string): RuledPlay {
  const text = readFileSync(new URL(`plays/${name}.json`, import.meta.url), 'utf8');
  return ruledPlaySchema.parse(JSON.parse(text).play);
}
