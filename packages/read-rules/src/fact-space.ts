import { lookIdSchema } from '@stemline/football/ids';
import type { AlignedLook } from '@stemline/football/look';
import type { Play } from '@stemline/football/play';
import type { Condition, ReadCard } from './card.ts';
import type { FactName } from './fact-name.ts';
import { type Setting, type Sighting, settingOf, sightingOf } from './facts/sighting.ts';
import { impossible } from './facts/world.ts';
import { facts } from './facts.ts';
import { askedFacts } from './reasons.ts';
import type { Ask, Axis, Domain } from './space/column.ts';
import type { AskedRow } from './space/table.ts';

/** The space that a card's rows divide, on this play. */
export interface FactSpace {
  readonly names: readonly FactName[];
  readonly axes: readonly Axis[];
  readonly rows: readonly AskedRow[];
  /** Parts of the space that no defence can show; they cover, but they never answer. */
  readonly barred: readonly AskedRow[];
  /** Null when the man the scan starts over is not on the field. */
  readonly setting: Setting | null;
  /** What a fact may be on this play, asked about or not. */
  readonly domainOf: (name: FactName) => Domain;
}

/**
 * One axis per fact asked about. Each is narrowed to what can come up here: the key only where the
 * scan looks, and what the play itself settles (receivers, field zone, down) at its one value.
 */
export const factSpace = (play: Play, card: ReadCard): FactSpace =>
  factSpaceIn(settingOf(play, card), card);

/** The same where what holds of the card on its play is known; null when nothing does. */
export function factSpaceIn(setting: Setting | null, card: ReadCard): FactSpace {
  const names = askedFacts(card);
  const sighting = setting && sightingOf(setting, nobody, {});
  const domainOf = (name: FactName): Domain => narrowed(name, card, sighting);
  return {
    names,
    setting,
    domainOf,
    axes: names.map((name) => ({ name, domain: domainOf(name) })),
    rows: card.rows.map(({ conditions }) => asksOf(names, conditions) ?? []),
    barred: impossible.flatMap(({ together }) => {
      const asks = asksOf(names, together);
      return asks ? [asks] : [];
    }),
  };
}

/** A look without defenders: what the play settles can be measured on it. */
const nobody: AlignedLook = {
  id: lookIdSchema.parse('nobody'),
  name: 'nobody',
  traits: { front: 'even', shell: 'zero', middle: 'open', coverage: 'man' },
  defenders: [],
};

/** Conditions as asks by column; null where one is about a fact that is not an axis. */
function asksOf(names: readonly FactName[], conditions: readonly Condition[]): AskedRow | null {
  const columns = conditions.map(({ fact }) => names.indexOf(fact));
  if (columns.includes(-1)) return null;
  return conditions.map((condition, i) => ({
    column: columns[i] as number,
    ask: askOf(condition),
  }));
}

function askOf(condition: Condition): Ask {
  switch (condition.kind) {
    case 'range':
      return { kind: 'range', from: condition.from, to: condition.to };
    case 'is':
      return { kind: 'among', values: [condition.value] };
    case 'oneOf':
      return { kind: 'among', values: condition.values };
  }
}

function narrowed(name: FactName, card: ReadCard, sighting: Sighting | null): Domain {
  const { domain, hangsOn, measure } = facts[name];
  if (hangsOn === 'play') {
    const value = sighting && measure(sighting);
    return value === null ? domain : only(domain, value);
  }
  if (domain.kind !== 'continuous') return domain;
  const { headUp, reach, direction, maxDepth } = card.head.key;
  const inside = direction === 'inside';
  switch (name) {
    case 'keyOffset':
      return between(domain, inside ? -headUp : -reach, inside ? reach : headUp);
    case 'keyDepth':
      return between(domain, 0, maxDepth);
    case 'cushion': {
      if (!sighting) return domain;
      // From his depth at the snap he can come up or drop by what he can run until the decision.
      const run = Math.max(...card.head.key.levels.map((level) => sighting.run[level]));
      const depth = sighting.decision.at[1];
      return between(domain, Math.floor(-run - depth), Math.ceil(maxDepth + run - depth));
    }
    default:
      return domain;
  }
}

function between(
  domain: Extract<Domain, { kind: 'continuous' }>,
  from: number,
  to: number,
): Domain {
  const min = Math.max(domain.min, from);
  return { ...domain, min, max: Math.max(min, Math.min(domain.max, to)) };
}

function only(domain: Domain, value: number | boolean | string): Domain {
  if (domain.kind === 'continuous' && typeof value === 'number')
    return { ...domain, min: value, max: value };
  return domain.kind === 'enumerated' ? { ...domain, values: [String(value)] } : domain;
}
