import { backs } from '@stemline/football/count';
import { type Drop, dropOf, dropWords } from '@stemline/football/footwork/drop';
import type { Play } from '@stemline/football/play';
import {
  type Helper,
  type Protection,
  type ProtectionCall,
  protectionOf,
} from '@stemline/football/protection';
import { dropsFrom, passerOf } from '@stemline/read-rules/clock/passer-clock';
import type { Blocking } from '@stemline/read-rules/protection/blockers';

/** "7 yd" or "7 to 8 yd". */
const span = ({ from, to }: { from: number; to: number }, unit: string): string =>
  from === to ? `${from} ${unit}` : `${from} to ${to} ${unit}`;

/** When the ball leaves: "2.1 to 2.5 s". */
export const ballOutWords = ({ ballOut }: Drop): string =>
  `${ballOut.from.toFixed(1)} to ${ballOut.to.toFixed(1)} s`;

/** What a drop comes to, in one sentence. */
export const dropNumbers = (drop: Drop): string =>
  `He throws from ${span(drop.depth, 'yd')} behind the line${
    drop.width.to > 0 ? ` and ${span(drop.width, 'yd')} to the side` : ''
  }; the ball is out ${ballOutWords(drop)} after the snap. Fits routes of ${span(drop.routes, 'yd')}.`;

const who: Record<Helper['who'], string> = {
  back1: 'the first back',
  back2: 'the second back',
  endAway: 'the end away from the slide',
  endToward: 'the end on the side of the slide',
};

const scans: Record<Helper['scan'], string> = {
  insideOut: 'from the inside out',
  outsideIn: 'from the edge in',
};

/** "the first back checks from the inside out and goes out when nobody comes". */
const helperWords = ({ who: place, scan, releases }: Helper): string =>
  `${who[place]} ${
    releases
      ? `checks ${scans[scan]} and goes out when nobody comes`
      : `stays in and blocks ${scans[scan]}`
  }`;

const slides: Record<Protection['slide'], (toward: string) => string> = {
  none: () => 'the line blocks man on man',
  half: (toward) => `the center and the ${toward} side slide ${toward}`,
  full: (toward) => `all five slide ${toward}`,
};

const upperFirst = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** What a call asks of the men, in one sentence. */
export const callWords = (protection: Protection, toward: ProtectionCall['toward']): string =>
  `${upperFirst(
    [
      slides[protection.slide](toward),
      ...protection.helpers.map((helper) => helperWords(helper)),
    ].join('; '),
  )}.`;

/** The call of a play in short: its name and side, and the drop. */
export const calledWords = ({ protection: call, drop: id }: Play): string[] => {
  const [protection, drop] = [protectionOf(call), dropOf(id)];
  return [
    ...(protection && call
      ? [
          `Protection: ${protection.name}${protection.slide === 'none' ? '' : `, to the ${call.toward}`}`,
        ]
      : []),
    ...(drop ? [`Drop: ${dropWords(drop)}`] : []),
  ];
};

/** Men whom a call names and the formation does not have; null when all are there. */
export function missingWords(
  play: Play,
  protection: Protection,
  blocking: Blocking,
): string | null {
  const behind = backs(play).length;
  const ends = blocking.helpers.filter(({ onLine }) => onLine).length;
  const missing = protection.helpers.filter(({ who: place }) =>
    place === 'back1' ? behind < 1 : place === 'back2' ? behind < 2 : ends === 0,
  );
  if (missing.length === 0) return null;
  const names = missing.map(({ who: place }) => who[place]).join(' and ');
  const [are, them] = missing.length > 1 ? ['are', 'them'] : ['is', 'him'];
  return `The call names ${names}, who ${are} not in this formation: ${
    5 + protection.helpers.length - missing.length
  } block. Put ${them} in, or call a protection without ${them}.`;
}

/** A drop that starts from elsewhere than where the passer stands; null when they agree. */
export function feetWords(play: Play, drop: Drop): string | null {
  const passer = passerOf(play);
  const [stands] = passer ? dropsFrom(passer) : [];
  if (!passer || !stands || stands.snap === drop.snap) return null;
  const back = `${Math.abs(passer.at[1]).toFixed(1)} yd behind the line`;
  return drop.snap === 'underCentre'
    ? `${passer.label} stands ${back}, in the shotgun, and this drop starts under the center. Move him up, or call one from the shotgun.`
    : `${passer.label} stands ${back}, under the center, and this drop starts in the shotgun. Move him back, or call one from under the center.`;
}
