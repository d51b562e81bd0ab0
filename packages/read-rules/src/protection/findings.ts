import type { AlignedLook, Defender, ReactionChoice } from '@stemline/football/look';
import type { Element, Finding, Severity } from '../finding.ts';
import { findingId } from '../findings/finding-id.ts';
import type { OnPlay } from '../findings/on-play.ts';
import { type Readers, readersAmong } from '../same-page/reader-card.ts';
import { seconds } from '../throws/words.ts';
import { both } from '../words.ts';
import { type Cause, causes, type Exposed, exposedIn } from './exposure.ts';
import { hotKeys } from './hot-keys.ts';
import { type Protecting, protectingOf } from './protect.ts';

/**
 * Who comes free too soon: as called, and where somebody's key comes who is not called to; what anybody
 * else may do is in other looks of the shelf. One finding for each kind and cause, with the worst look
 * as its witness, a called one before any other.
 */
export function protection(on: OnPlay): readonly Finding[] {
  const { play, looks, cards, clocks, keep } = on;
  const protecting = protectingOf(play, cards, clocks, keep);
  if (!protecting) return [];
  const { all: readers, passer } = readersAmong(play, cards);
  const five = protecting.blocking.line.length;
  const shown = looks.flatMap((look): Shown[] => {
    const asCalled = protecting.before(look, {});
    const called = exposedIn(asCalled);
    const known = new Set(called.map(({ cause }) => cause));
    // The line has as many as it is; one more makes a difference past that.
    if (asCalled.pickUp.rushers < five) return called.map(calledOne);
    const others = keysWhoMayCome(readers, passer, look).flatMap(({ reactions, isPassers }) =>
      exposedIn(protecting.before(look, reactions))
        .filter(({ cause }) => !known.has(cause))
        .map((one) => ({ ...one, isCalled: false, isPassers })),
    );
    return [...called.map(calledOne), ...others];
  });
  return [
    ...causes.flatMap((cause) => {
      const ofIt = shown.filter((one) => one.cause === cause);
      const called = ofIt.filter(({ isCalled }) => isCalled);
      const told = called.length > 0 ? called : ofIt;
      const worst = told.reduce<Shown | null>((a, b) => (a && a.late >= b.late ? a : b), null);
      return worst ? [tellIt(protecting, cause, worst, told, looks.length)] : [];
    }),
    ...hotKeys(on),
  ];
}

interface Shown extends Exposed {
  readonly isCalled: boolean;
  /** It is the passer's own key who comes. */
  readonly isPassers: boolean;
}

const calledOne = (one: Exposed): Shown => ({ ...one, isCalled: true, isPassers: false });

/** The men whom the cards read and who may come though they are not called to, each once. */
function keysWhoMayCome(
  readers: Readers['all'],
  passer: Readers['passer'],
  look: AlignedLook,
): { readonly reactions: ReactionChoice; readonly isPassers: boolean }[] {
  const seen = new Set<Defender>();
  return readers.flatMap((reader) => {
    const { key } = reader.before(look);
    if (key.kind !== 'one' || seen.has(key.defender)) return [];
    seen.add(key.defender);
    const [call, ...others] = key.defender.reactions;
    const rush = others.find(({ move }) => move === 'rush');
    if (!rush || call?.move === 'rush') return [];
    return [{ reactions: { [key.defender.id]: rush.id }, isPassers: reader === passer }];
  });
}

function tellIt(
  { answers, blocking }: Protecting,
  cause: Cause,
  { seen, first, isCalled, isPassers }: Shown,
  shown: readonly Shown[],
  all: number,
): Finding {
  const { look, reactions, outlets, thrown, pickUp } = seen;
  const who = answers.passer.player.label;
  const man = first.rusher.label;
  const there = `${man} is free and on ${who} ${seconds(first.arrives)} after the snap`;
  const [quickest] = outlets;
  const waits = quickest
    ? `the quickest, ${quickest.player.label}, can be thrown to at ${seconds(quickest.ready)}`
    : 'nobody can be thrown to';
  const [coming] = look.defenders.filter(({ id }) => reactions[id] !== undefined);
  const against = `Against "${look.name}"${coming ? `, if ${coming.label} comes,` : ''}`;
  const count = shown.length > 1 ? ` ${shown.length} of the ${all} looks show it.` : '';
  const says = {
    outnumbered: `${against} ${pickUp.rushers} come and ${blocking.line.length + blocking.helpers.length} block: ${there}, and ${waits}. There is no hot answer.${count}`,
    nobodyHasHim: `${against} nobody has ${man}: he is on ${who} ${seconds(first.arrives)} after the snap, and ${waits}.${count}`,
    card: `${against} ${there}. ${who}'s card throws to ${thrown?.player.label}, who is ready at ${seconds(thrown?.ready ?? 0)}; ${quickest?.player.label} would be at ${seconds(quickest?.ready ?? 0)}.${count}`,
  }[cause];
  const mend = {
    outnumbered: `Give somebody a way that is open by ${seconds(first.arrives)} (a break by 5 yd, a back to the flat), or keep one more in.`,
    nobodyHasHim: `Slide to him, keep a back or an end in for him, or give somebody a way that is open by ${seconds(first.arrives)}.`,
    card: `Add a row to ${who}'s card that throws to ${quickest?.player.label} when he comes.`,
  }[cause];
  const blocked = pickUp.blocks.map(({ blocker, rusher }) => `${blocker.label} ${rusher.label}`);
  const { passerCard } = answers;
  const element: Element =
    cause !== 'nobodyHasHim' && passerCard
      ? { kind: 'card', player: passerCard.card.player }
      : { kind: 'player', player: answers.passer.player.id };
  // Off the call it is for the record, unless the passer's own card sees him come and does not answer.
  const severity: Severity = isCalled || (isPassers && cause === 'card') ? 'warn' : 'note';
  const kind = cause === 'outnumbered' ? 'noHot' : 'unblocked';
  return {
    id: findingId(kind, [cause]),
    kind,
    severity,
    elements: [element],
    says,
    mend,
    witness: {
      look,
      reactions,
      says: `${man} is free, on ${who} at ${seconds(first.arrives)}${blocked.length > 0 ? `; blocked: ${both(blocked)}` : ''}`,
    },
  };
}
