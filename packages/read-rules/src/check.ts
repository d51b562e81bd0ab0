import type { PlayerId } from '@stemline/football/ids';
import type { AlignedLook } from '@stemline/football/look';
import { alignShelf, type LookRecipe } from '@stemline/football/shelf';
import type { ReadCard } from './card.ts';
import { settingOf } from './facts/sighting.ts';
import type { Finding, FindingKind, Severity } from './finding.ts';
import { lateDecision } from './findings/decision.ts';
import { illegalFormation } from './findings/illegal-formation.ts';
import { keys } from './findings/keys.ts';
import type { OnCard } from './findings/on-card.ts';
import type { OnPlay } from './findings/on-play.ts';
import { proved } from './findings/proved.ts';
import { timing } from './findings/timing.ts';
import { shortOfEleven, unfinished, unreadable, withoutPlayer } from './findings/unfinished.ts';
import { unseen } from './findings/unseen.ts';
import { afresh, type Keep } from './keep.ts';
import { protection } from './protection/findings.ts';
import { type Proof, proveIn } from './prove.ts';
import type { RuledPlay } from './ruled-play.ts';
import { offThePage } from './same-page/off-the-page.ts';
import { ReaderCard } from './same-page/reader-card.ts';
import { Clocks } from './throws/clocks.ts';
import { malformed, spoils, spoilsAll } from './well-formed.ts';

/** What is asked of the play as a whole, in the order in which it is told, and what it may tell. */
const checksOfAPlay: readonly {
  readonly ask: (on: OnPlay) => readonly Finding[];
  readonly tells: readonly FindingKind[];
}[] = [
  {
    ask: ({ play, keep }) => keep.of('legal', illegalFormation, play),
    tells: ['illegalFormation'],
  },
  {
    ask: ({ play, keep }) => keep.of('eleven', shortOfEleven, play.players),
    tells: ['unfinished'],
  },
  {
    ask: timing,
    tells: ['late', 'early', 'outOfReach', 'outOfRoom', 'crowded', 'undercut'],
  },
  { ask: protection, tells: ['noHot', 'unblocked', 'hotKeys'] },
  { ask: offThePage, tells: ['offThePage'] },
];

/** Everything that is asked of one card, in the order in which it is told. */
const checksOfACard: readonly ((on: OnCard) => readonly Finding[])[] = [
  unfinished,
  proved,
  keys,
  lateDecision,
  unseen,
];

const weight: Readonly<Record<Severity, number>> = { stop: 0, warn: 1, note: 2 };

/**
 * The rule check over one play: what its code, its cards and the shelf have against it. SPEC.md says
 * what each finding means. Pure: the same play and shelf give the same findings. It finds and never
 * throws; what has no meaning is told as unfinished, and nothing is concluded from it.
 */
export const check = (play: RuledPlay, shelf: readonly LookRecipe[]): readonly Finding[] =>
  checkKeeping(afresh, play, shelf);

/**
 * The same, part by part, each run or remembered as `keep` sees fit. What is asked of the play as a
 * whole may be held to what tells some of the wanted kinds; the cards are asked everything.
 */
export function checkKeeping(
  keep: Keep,
  play: RuledPlay,
  shelf: readonly LookRecipe[],
  wanted: ReadonlySet<FindingKind> | null = null,
): readonly Finding[] {
  const faults = keep.of('malformed', malformed, play);
  const found = faults.map(unreadable);
  if (!faults.some(spoilsAll)) {
    const before = (last: readonly AlignedLook[] | null) => alignShelf(shelf, play, last ?? []);
    const looks = keep.list('shelf', keep.next('looks', before));
    const sound = play.cards.filter((card) => !faults.some((fault) => spoils(fault, card)));
    const on = onPlay(keep, { ...play, cards: sound }, looks);
    for (const { ask, tells } of checksOfAPlay) {
      if (!wanted || tells.some((kind) => wanted.has(kind))) found.push(...ask(on));
    }
    for (const card of sound) {
      const who = play.players.find(({ id }) => id === card.player)?.label;
      if (who === undefined) found.push(withoutPlayer(card.player));
      else {
        const its = keep.of(`on ${card.player}`, onCard, ...partsOf(on, card), who, looks);
        for (const [i, ask] of checksOfACard.entries()) {
          found.push(...keep.of(`card ${card.player} ${i}`, ask, its));
        }
      }
    }
  }
  return found.sort((a, b) => weight[a.severity] - weight[b.severity]);
}

/** What a row is taught with changes nothing on the field. */
const wordless = (card: ReadCard): ReadCard => ({
  ...card,
  rows: card.rows.map((row) => ({ ...row, says: '' })),
});

function onPlay(keep: Keep, drawn: RuledPlay, looks: readonly AlignedLook[]): OnPlay {
  const cards = drawn.cards.map((card) => keep.same(`read ${card.player}`, wordless(card)));
  const play = keep.same('play', { ...drawn, name: '', concept: '', cards });
  return { play, looks, cards: readersOn(keep, play), clocks: new Clocks(play, keep), keep };
}

const readersOn = (keep: Keep, play: RuledPlay): readonly ReaderCard[] =>
  keep.list(
    'readers',
    play.cards.flatMap((card) => {
      const setting = settingOf(play, card);
      const who = play.players.find(({ id }) => id === card.player)?.label;
      if (!setting || who === undefined) return [];
      const held = keep.same(`setting ${card.player}`, setting);
      return [keep.of(`reader ${card.player}`, readerOn, held, who)];
    }),
  );

const readerOn = (setting: ReaderCard['setting'], who: string): ReaderCard =>
  new ReaderCard(setting, who);

/** What of a play a card's own checks look at: who stands where, and the routes of those it names. */
function partsOf(
  { play, cards, keep }: OnPlay,
  card: ReadCard,
): [RuledPlay, ReadCard, ReaderCard | null, Proof | null] {
  const { player, head, branches } = card;
  const targets = branches.flatMap((branch) => (branch.kind === 'target' ? [branch.player] : []));
  const named = new Set<PlayerId>([player, ...targets]);
  if (head.key.over !== null) named.add(head.key.over);
  const routes = Object.fromEntries(
    Object.entries(play.routes).filter(([id]) => named.has(id as PlayerId)),
  ) as RuledPlay['routes'];
  const alone = keep.same(`play of ${player}`, { ...play, routes, cards: [] });
  const reader = cards.find((one) => one.card.player === player) ?? null;
  const proof = reader && keep.of(`proof ${player}`, proveIn, reader.setting, reader.card);
  return [alone, card, reader, proof];
}

const onCard = (
  play: RuledPlay,
  card: ReadCard,
  reader: ReaderCard | null,
  proof: Proof | null,
  who: string,
  looks: readonly AlignedLook[],
): OnCard => ({ play, card, reader, proof, who, looks });
