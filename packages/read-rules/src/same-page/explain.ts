import type { PlayerId } from '@stemline/football/ids';
import type { AlignedLook, Defender } from '@stemline/football/look';
import { branchNames, readsKey } from '../evaluate.ts';
import { rowNumber } from '../reasons.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { both } from '../words.ts';
import type { ThrowMargin } from './margins.ts';
import type { OffPage } from './off-page.ts';
import { keysOf, type Reading } from './reader-card.ts';

/** A defender as a coach points him out: by his label, and his side where two wear it. */
export function nameOf({ defenders }: Pick<AlignedLook, 'defenders'>, man: Defender): string {
  const twins = defenders.filter(({ label, id }) => label === man.label && id !== man.id);
  if (twins.length === 0) return man.label;
  const isLeft = twins.every(({ at }) => man.at[0] < at[0]);
  const isRight = twins.every(({ at }) => man.at[0] > at[0]);
  return isLeft ? `left ${man.label}` : isRight ? `right ${man.label}` : man.label;
}

export const labelIn = (play: RuledPlay, player: PlayerId): string =>
  play.players.find(({ id }) => id === player)?.label ?? player;

/** What stands for the row that answers: "row 2", "when in doubt". */
export function answerName({ reader, row, torn }: Reading): string {
  const rows = torn.map(({ id }) => rowNumber(reader.card, id));
  if (rows.length > 0) return `rows ${both(rows.map(String))}`;
  if (row === 'whenInDoubt') return 'when in doubt';
  if (row === 'noKey') return 'without a key';
  return row === null ? 'no answer' : `row ${rowNumber(reader.card, row)}`;
}

/** One sentence for one look and one choice of reactions: who sees whom, and what it comes to. */
export function explain(
  play: RuledPlay,
  look: AlignedLook,
  passer: Reading | null,
  readings: readonly Reading[],
  off: readonly OffPage[],
  margin: ThrowMargin | null = null,
): string {
  const parts = readings.map((reading) => {
    const isSame =
      passer !== null &&
      reading !== passer &&
      reading.key.kind === 'one' &&
      passer.key.kind === 'one' &&
      reading.key.defender.id === passer.key.defender.id;
    return `${reading.reader.who} ${sees(look, reading, isSame)}${does(play, reading)}`;
  });
  const wrong = passer ? off.map((one) => offWords(play, passer, one)) : [];
  if (margin && margin.seconds < 0) {
    const by = (-margin.seconds).toFixed(2);
    wrong.push(`${nameOf(look, margin.defender)} is under the ball ${by} s before it gets there`);
  }
  const all = `${both(parts)}${wrong.length > 0 ? `: ${both(wrong)}` : ''}`;
  return `${all}.`;
}

function sees(look: AlignedLook, { reader, key, keyDoes }: Reading, isSame: boolean): string {
  if (!readsKey(reader.card)) return '';
  const names = keysOf(key).map((man) => nameOf(look, man));
  switch (key.kind) {
    case 'none':
      return 'finds no key and ';
    case 'tie':
      return `cannot tell ${both(names)} apart and `;
    case 'one': {
      if (isSame) return 'sees the same man and ';
      return `sees that ${names[0]} ${keyDoes?.says} and `;
    }
  }
}

function does(play: RuledPlay, reading: Reading): string {
  const { branch, torn, reader } = reading;
  if (torn.length > 0) {
    const names = branchNames(reader.card, torn);
    return `has ${names.length} answers, ${both(names)} (${answerName(reading)})`;
  }
  if (!branch) return 'has no answer';
  const why = ` (${answerName(reading)})`;
  switch (branch.kind) {
    case 'target':
      return `throws to ${labelIn(play, branch.player)}${why}`;
    case 'route':
      return `runs ${branch.name}${why}`;
    case 'block':
      return `answers ${branch.name}${why}`;
  }
}

/** What is off the page, after everybody's part has been told. */
export function offWords(play: RuledPlay, passer: Reading, { kind, player }: OffPage): string {
  const who = labelIn(play, player);
  switch (kind) {
    case 'differentMen':
      return `off ${who}'s man the ball would go elsewhere`;
    case 'noRoute':
      return `${who} has no route`;
    case 'staysIn':
      return `${who} stays in to block`;
    case 'nobodyAnswers':
      return passer.reader.card.player === player
        ? 'nobody knows where the ball goes'
        : `${who} does not know what to run`;
  }
}
