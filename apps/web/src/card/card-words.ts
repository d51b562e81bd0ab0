import type { Level } from '@stemline/football/look';
import type { Play } from '@stemline/football/play';
import type {
  Branch,
  CardHead,
  Condition,
  HitPolicy,
  ReadCard,
  RouteBranch,
  Row,
} from '@stemline/read-rules/card';
import type { FactName } from '@stemline/read-rules/fact-name';
import { factNames, facts } from '@stemline/read-rules/facts';
import type { Side } from '@stemline/read-rules/space/region';
import { both, describeCount, describeDepth, oneOf, yards } from '@stemline/read-rules/words';

export const levelNames: Record<Level, string> = {
  line: 'the line',
  second: 'the second level',
  corner: 'the corners',
  deep: 'the deep men',
};

export const policyNames: Record<HitPolicy, string> = {
  first: 'the first row that fits',
  unique: 'exactly one row may fit',
};

/** A condition as the part of the fact's axis that it asks for. */
function sideOf(condition: Condition): Side {
  const { fact: name } = condition;
  const { domain } = facts[name];
  if (condition.kind === 'is') {
    return { kind: 'values', name, values: [condition.value], whole: false };
  }
  if (condition.kind === 'oneOf') {
    return { kind: 'values', name, values: condition.values, whole: false };
  }
  const [min, max] = domain.kind === 'continuous' ? [domain.min, domain.max] : [0, 0];
  const from = condition.from ?? { at: min, closed: true };
  const to = condition.to ?? { at: max, closed: true };
  return {
    kind: 'interval',
    name,
    from,
    to,
    atStart: condition.from === null,
    atEnd: condition.to === null,
    whole: false,
  };
}

/**
 * What a row asks of one fact, under a heading that names the fact: "2.0 to 4.0 yd inside", "yes",
 * "drops or sits".
 */
export function cellWords(condition: Condition): string {
  const side = sideOf(condition);
  const { domain, unit, valueLabels, says } = facts[condition.fact];
  if (condition.kind === 'is') return condition.value ? 'yes' : 'no';
  if (domain.kind === 'enumerated') return oneOf(side, valueLabels);
  // A length that goes both ways is told by its direction; the verb belongs to a whole sentence.
  if (domain.kind === 'continuous' && domain.min < 0) {
    return says(side, { sideManOn: 'outside' }).says.replace(/^(?:sits|is) /, '');
  }
  return unit === 'yd' ? describeDepth(side) : describeCount(side);
}

/** Both answers of a yes-or-no fact as the sentence of a coach. */
export function yesNoWords(card: ReadCard, fact: FactName, value: boolean): string {
  const sideManOn = card.head.key.direction === 'outside' ? 'inside' : 'outside';
  const { subject, says } = facts[fact].says(sideOf({ kind: 'is', fact, value }), { sideManOn });
  return `${value ? 'yes' : 'no'}: ${subject} ${says}`;
}

/** The facts that a card's rows ask about, in the order of the fact table. */
export const askedFacts = (card: ReadCard): FactName[] =>
  factNames.filter((name) =>
    card.rows.some((row) => row.conditions.some(({ fact }) => fact === name)),
  );

export const conditionOf = (row: Row, fact: FactName): Condition | undefined =>
  row.conditions.find((condition) => condition.fact === fact);

/** What a card answers: a branch, none, or several that its rows disagree about. */
export const answerWords = (branch: string | null, torn: readonly string[]): string =>
  torn.length > 0 ? `${torn.length} answers: ${torn.join(', ')}` : (branch ?? 'no answer');

export const branchName = (card: ReadCard, id: string | null): string =>
  id === null
    ? 'no answer'
    : (card.branches.find((branch) => branch.id === id)?.name ?? 'a branch that is gone');

export const yd = (length: number): string => `${yards(length).replace(/\.0$/, '')} yd`;

/** "5 to 6 yd". */
export const breakDepthWords = ({ breakAt: { from, to } }: RouteBranch): string =>
  from === to ? yd(from) : `${yards(from).replace(/\.0$/, '')} to ${yd(to)}`;

function finishWords(branch: RouteBranch): string {
  const { finish } = branch;
  const depth = breakDepthWords(branch);
  switch (finish.kind) {
    case 'in':
    case 'out':
      return `breaks ${finish.kind} at ${depth}, ${finish.angle}° off upfield`;
    case 'sit':
      return `sits at ${depth}`;
    case 'on':
      return `runs on past ${depth}`;
    case 'path':
      return `breaks at ${depth} as drawn`;
  }
}

export const labelOf = (play: Play, id: string): string =>
  play.players.find((player) => player.id === id)?.label ?? 'a man who is gone';

/** What a branch asks of its player, in one line. */
export function branchWords(play: Play, branch: Branch): string {
  if (branch.kind === 'block') return branch.what;
  if (branch.kind === 'target') return `throws to ${labelOf(play, branch.player)}`;
  const { release, decideBy, eyes } = branch;
  return [
    finishWords(branch),
    `decides by ${yd(decideBy)}`,
    release.side === 'free' ? '' : `releases ${release.side}`,
    release.hesitate > 0 ? `hesitates ${release.hesitate} s` : '',
    eyes > 0 ? `eyes ${eyes} s after the break` : '',
  ]
    .filter((part) => part !== '')
    .join(', ');
}

/** How the player finds his key, in one sentence. */
export function keyWords(play: Play, card: ReadCard): string {
  const { key } = card.head;
  const over = key.over === null || key.over === card.player ? 'himself' : labelOf(play, key.over);
  const levels = both(key.levels.map((level) => levelNames[level]));
  return `The first defender of ${levels} from head-up over ${over} to the ${key.direction}, within ${yd(key.reach)} and no deeper than ${yd(key.maxDepth)}.`;
}

export const sideManWords = ({ key, sideMan }: CardHead): string =>
  `A man ${key.direction === 'inside' ? 'outside' : 'inside'} counts within ${yd(sideMan.width)} and no deeper than ${yd(sideMan.depth)}.`;

/** What a card is called where several are listed. */
export function cardName(play: Play, card: ReadCard): string {
  const label = play.players.find(({ id }) => id === card.player)?.label ?? '?';
  return card.head.title === '' ? `${label}'s read card` : `${label}: ${card.head.title}`;
}
