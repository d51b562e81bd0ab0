import type { AlignedLook, Defender, ReactionChoice } from '@stemline/football/look';
import type { ReadCard } from '../card.ts';
import { measureAsked, needsKey } from '../evaluate.ts';
import type { FactName } from '../fact-name.ts';
import type { Facts } from '../facts/declaration.ts';
import type { Draft } from '../facts/draft.ts';
import { type Setting, type Sighting, sightingOf } from '../facts/sighting.ts';
import { facts } from '../facts.ts';
import { askedFacts } from '../reasons.ts';

/** A defence with what the card's facts are before it. */
export interface Seen extends Draft {
  readonly sighting: Sighting;
  readonly known: Partial<Facts>;
}

/** What a witness must show when it is evaluated again. */
export type Claim = (seen: Seen) => boolean;

/** The shelf as one card sees it, worked out once and asked for every finding. */
export interface Bench {
  readonly card: ReadCard;
  readonly setting: Setting;
  readonly names: readonly FactName[];
  /** Every look with its called reactions. */
  readonly called: readonly Seen[];
  /**
   * A called look with every other reaction that can change what the card asks about. Worked out when
   * first asked for.
   */
  readonly others: (called: Seen) => readonly Seen[];
  /** What the play settles, whatever the defence. */
  readonly settled: Partial<Facts>;
  /** The asked facts that the defence decides. */
  readonly open: readonly FactName[];
}

/** Reactions of this many men beside the key are tried in turn. */
const neighbours = 3;
/** Ways to react that are tried per look at most. */
const mostWays = 200;

/** What everybody sees before the snap does not change with what a defender does after it. */
export const showsBeforeSnap = (name: FactName): boolean =>
  facts[name].seenBy.passer.when === 'beforeSnap';

export function benchOf(setting: Setting, looks: readonly AlignedLook[]): Bench {
  const { card } = setting;
  const names = askedFacts(card);
  const open = names.filter((name) => facts[name].hangsOn !== 'play');
  const [first] = looks;
  const byPlay = names.filter((name) => facts[name].hangsOn === 'play');
  const settled = first ? measureAsked(sightingOf(setting, first, {}), byPlay) : {};
  const on = { card, setting, names, settled, open };
  const later = open.filter((name) => !showsBeforeSnap(name));
  const known = new Map<Seen, readonly Seen[]>();
  return {
    ...on,
    called: looks.map((look) => seen(on, { look, reactions: {} })),
    others: (called) => {
      const before = known.get(called);
      if (before) return before;
      const { look } = called;
      const ways = waysToReact(menWhoMatter(called.sighting, names)).slice(1);
      const now = ways.map((reactions): Seen => {
        const sighting = called.sighting.reacting(reactions);
        const changed = measureAsked(sighting, later);
        return { look, reactions, sighting, known: { ...called.known, ...changed } };
      });
      known.set(called, now);
      return now;
    },
  };
}

/** What the card's facts are before a defence. */
export function seen(
  { setting, settled, open }: Pick<Bench, 'setting' | 'settled' | 'open'>,
  draft: Draft,
): Seen {
  const sighting = sightingOf(setting, draft.look, draft.reactions);
  return { ...draft, sighting, known: { ...settled, ...measureAsked(sighting, open) } };
}

/** Those whose reactions can change an asked fact: the key, and the men near the runner where room is asked. */
function menWhoMatter({ key, look, runner }: Sighting, names: readonly FactName[]): Defender[] {
  const asked = new Set(names.map((name) => facts[name].hangsOn));
  const near = asked.has('neighbours')
    ? look.defenders
        .filter((defender) => defender.id !== key?.id)
        .sort((a, b) => away(a, runner.at[0]) - away(b, runner.at[0]))
        .slice(0, neighbours)
    : [];
  return [...(key && names.some(needsKey) ? [key] : []), ...near];
}

const away = ({ at }: Defender, x: number): number => Math.abs(at[0] - x) + at[1] / 2;

/** Every choice of reactions of these men, all called ones first; cut off at a bound. */
function waysToReact(men: readonly Defender[]): ReactionChoice[] {
  let ways: ReactionChoice[] = [{}];
  for (const { id, reactions } of men) {
    ways = reactions.flatMap((reaction, i) =>
      ways.map((way) => (i === 0 ? way : { ...way, [id]: reaction.id })),
    );
    if (ways.length > mostWays) break;
  }
  return ways.slice(0, mostWays);
}
