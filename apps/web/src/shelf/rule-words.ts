import type { Level } from '@stemline/football/look';
import type { Flank, Job, Stand, Target, Zone } from '@stemline/football/looks/recipe';

/** What the parts of a look are called in its editor. */
export const flankWords: Record<Flank, string> = { strong: 'Strong side', weak: 'Weak side' };

export const levelWords: Record<Level, string> = {
  line: 'Line',
  second: 'Second level',
  corner: 'Corner',
  deep: 'Deep',
};

export const standWords: Record<Stand['kind'], string> = {
  technique: 'Technique',
  edge: 'Outside the edge',
  over: 'Over a receiver',
  apex: 'Apex',
  onMan: 'Over his man',
  shell: 'Half or quarter',
  post: 'Deep middle',
  fromBall: 'From the ball',
};

export const jobWords: Record<Job['kind'], string> = {
  rush: 'Rushes',
  zone: 'Zone',
  man: 'Man',
  wall: 'Walls a receiver',
};

export const zoneWords: Record<Zone, string> = {
  flat: 'Flat',
  curlFlat: 'Curl, then flat',
  hook: 'Hook',
  middleHook: 'Middle hook',
  pole: 'Deep middle run',
  robber: 'Robber',
  third: 'Outside third',
  middleThird: 'Middle third',
  half: 'Half',
  quarter: 'Quarter',
  insideQuarter: 'Inside quarter',
  poach: 'Poach across',
};

export const targetWords: Record<Target, string> = {
  strong1: '#1 strong',
  strong2: '#2 strong',
  strong3: '#3 strong',
  strong4: '#4 strong',
  weak1: '#1 weak',
  weak2: '#2 weak',
  weak3: '#3 weak',
  back1: 'First back',
  back2: 'Second back',
};

/** Entries of a table of words as the choices of a field. */
export const choices = <Key extends string>(
  words: Record<Key, string>,
): { value: Key; label: string }[] =>
  (Object.keys(words) as Key[]).map((value) => ({ value, label: words[value] }));
