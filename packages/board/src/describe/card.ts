import type { Branch, CardHead, ReadCard, RouteBranch, Row } from '@stemline/read-rules/card';
import { sameJson } from '../json.ts';
import { moved } from '../moved.ts';
import { conditionsInWords } from './condition.ts';
import { releaseWords } from './play.ts';
import { count, list, named, nowWas, short, span, yd } from './say.ts';

/** What a player's id is called on the board. */
export type LabelOf = (player: string) => string;

export function describeCard(
  old: ReadCard | undefined,
  now: ReadCard | undefined,
  labelOf: LabelOf,
): string[] {
  if (now === undefined)
    return old === undefined ? [] : [`${labelOf(old.player)}'s read card is gone`];
  const who = labelOf(now.player);
  if (old === undefined) {
    return [
      `${who} has a read card: ${count(now.rows.length, 'row')}, ${count(now.branches.length, 'branch', 'branches')}`,
    ];
  }
  if (old === now) return [];
  return [
    ...describeKey(who, old, now, labelOf),
    ...describeBranches(who, old, now, labelOf),
    ...describeRows(who, old, now),
  ];
}

function describeKey(who: string, old: ReadCard, now: ReadCard, labelOf: LabelOf): string[] {
  const [a, b]: [CardHead, CardHead] = [old.head, now.head];
  const over = (head: CardHead, card: ReadCard): string => labelOf(head.key.over ?? card.player);
  const answer = (card: ReadCard, branch: string | null): string =>
    branch === null ? 'open' : branchName(card, branch);
  return [
    ...nowWas(`${who}'s card is now called`, named(a.title), named(b.title)),
    ...nowWas(`${who} now scans from head-up over`, over(a, old), over(b, now)),
    ...nowWas(`${who} now scans`, a.key.direction, b.key.direction),
    ...nowWas(`${who}'s scan now reaches`, yd(a.key.reach), yd(b.key.reach)),
    ...nowWas(`${who}'s key now stands no deeper than`, yd(a.key.maxDepth), yd(b.key.maxDepth)),
    ...nowWas(`${who}'s key now comes from`, levelWords(a), levelWords(b)),
    ...nowWas(`Head-up over ${over(b, now)} now means within`, yd(a.key.headUp), yd(b.key.headUp)),
    ...nowWas(`Two men are now a tie for ${who} within`, yd(a.key.tie), yd(b.key.tie)),
    ...nowWas(`The man on ${who}'s other side now counts within`, sideManWords(a), sideManWords(b)),
    ...nowWas(`On ${who}'s card now`, policyWords[a.policy], policyWords[b.policy]),
    ...nowWas(
      `When in doubt ${who}'s answer is now`,
      answer(old, a.whenInDoubt),
      answer(now, b.whenInDoubt),
    ),
    ...nowWas(`Without a key ${who}'s answer is now`, answer(old, a.noKey), answer(now, b.noKey)),
  ];
}

const policyWords = { first: 'the first row that fits answers', unique: 'one row only may fit' };
const levelNames = {
  line: 'the line',
  second: 'the second level',
  corner: 'the corners',
  deep: 'the deep men',
};
const levelWords = ({ key }: CardHead): string =>
  list(key.levels.map((level) => levelNames[level]));
const sideManWords = ({ sideMan }: CardHead): string =>
  `${yd(sideMan.width)} and ${yd(sideMan.depth)} deep`;

const branchName = (card: ReadCard, id: string): string =>
  card.branches.find((branch) => branch.id === id)?.name ?? 'a branch that is not there';

function describeBranches(who: string, old: ReadCard, now: ReadCard, labelOf: LabelOf): string[] {
  const says: string[] = [];
  for (const branch of now.branches) {
    const before = old.branches.find((each) => each.id === branch.id);
    if (before === undefined) says.push(`${who}: ${branch.name} is new`);
    else if (!sameJson(before, branch)) says.push(...describeBranch(who, before, branch, labelOf));
  }
  for (const before of old.branches) {
    if (!now.branches.some((branch) => branch.id === before.id))
      says.push(`${who}: ${before.name} is gone`);
  }
  if (says.length === 0 && moved(old.branches, now.branches).length > 0) {
    says.push(`${who}'s branches stand in another order`);
  }
  return says;
}

function describeBranch(who: string, old: Branch, now: Branch, labelOf: LabelOf): string[] {
  const it = `${who}: ${now.name}`;
  const renamed = old.name === now.name ? [] : [`${who}: ${old.name} is now called ${now.name}`];
  if (old.kind === 'route' && now.kind === 'route')
    return [...renamed, ...describeFinish(it, old, now)];
  const answer = (branch: Branch): string =>
    branch.kind === 'target'
      ? `a throw to ${labelOf(branch.player)}`
      : branch.kind === 'block'
        ? named(branch.what)
        : finishWords(branch);
  return [...renamed, ...nowWas(`${it} is now`, answer(old), answer(now))];
}

function describeFinish(it: string, old: RouteBranch, now: RouteBranch): string[] {
  const finish = nowWas(`${it} now`, finishWords(old), finishWords(now));
  const redrawn = finish.length === 0 && !sameJson(old.finish, now.finish);
  return [
    ...nowWas(
      `${it} now breaks at`,
      span(old.breakAt.from, old.breakAt.to),
      span(now.breakAt.from, now.breakAt.to),
    ),
    ...nowWas(`${it} is now decided by`, yd(old.decideBy), yd(now.decideBy)),
    ...finish,
    ...(redrawn ? [`${it} is drawn differently`] : []),
    ...nowWas(`${it} now releases`, releaseWords(old), releaseWords(now)),
    ...nowWas(
      `${it} now shows his eyes`,
      `${short(old.eyes)} s after the break`,
      `${short(now.eyes)} s after the break`,
    ),
  ];
}

function finishWords({ finish }: RouteBranch): string {
  switch (finish.kind) {
    case 'in':
    case 'out':
      return `breaks ${finish.kind} at ${short(finish.angle)}° for ${yd(finish.run)}`;
    case 'sit':
      return 'sits';
    case 'on':
      return `runs on for ${yd(finish.run)}`;
    case 'path':
      return 'runs as drawn';
  }
}

function describeRows(who: string, old: ReadCard, now: ReadCard): string[] {
  const says: string[] = [];
  const wandered = new Set(moved(old.rows, now.rows));
  now.rows.forEach((row, i) => {
    const it = `Row ${i + 1} of ${who}'s card`;
    const at = old.rows.findIndex((each) => each.id === row.id);
    const before = old.rows[at];
    if (before === undefined) {
      says.push(
        `${it} is new: it asks ${conditionsInWords(now, row)} and leads to ${branchName(now, row.branch)}`,
      );
      return;
    }
    if (wandered.has(row.id)) says.push(`${it} was row ${at + 1}`);
    says.push(...describeRow(it, old, before, now, row));
  });
  old.rows.forEach((row, i) => {
    if (!now.rows.some((each) => each.id === row.id)) {
      says.push(
        `Row ${i + 1} of ${who}'s card, which led to ${branchName(old, row.branch)}, is gone`,
      );
    }
  });
  return says;
}

function describeRow(
  it: string,
  oldCard: ReadCard,
  old: Row,
  nowCard: ReadCard,
  now: Row,
): string[] {
  if (sameJson(old, now)) return [];
  const asks = sameJson(old.conditions, now.conditions)
    ? []
    : [
        `${it} now asks ${conditionsInWords(nowCard, now)} (was ${conditionsInWords(oldCard, old)})`,
      ];
  return [
    ...asks,
    ...(old.branch === now.branch
      ? []
      : [
          `${it} now leads to ${branchName(nowCard, now.branch)} (was ${branchName(oldCard, old.branch)})`,
        ]),
    ...nowWas(`${it} now says`, named(old.says), named(now.says)),
  ];
}
