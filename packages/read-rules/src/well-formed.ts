import { distance } from '@stemline/football/geometry';
import type { Bound, Condition, ReadCard } from './card.ts';
import { facts } from './facts.ts';
import type { Element } from './finding.ts';
import type { RuledPlay } from './ruled-play.ts';

/** Something in the input that has no meaning, where it is, and what to do. */
export interface Malformed {
  readonly code:
    | 'notANumber'
    | 'tooLarge'
    | 'twoPlayersOneId'
    | 'twoPlayersOnePlace'
    | 'twoCards'
    | 'twoRowsOneId'
    | 'twoBranchesOneId'
    | 'wrongKind'
    | 'outsideDomain'
    | 'unknownValue';
  /** From the play down, as keys and indices. */
  readonly path: readonly (string | number)[];
  readonly says: string;
  readonly mend: string;
  /** The element of the play that it spoils. */
  readonly element: Element;
}

/**
 * What a play's schema alone cannot refuse. Empty: the play means something, and the rule check can
 * say what. Never throws, whatever numbers it is given.
 */
export function malformed(play: RuledPlay): readonly Malformed[] {
  return [
    ...playersOnce(play),
    ...playersApart(play),
    ...numbersIn(play.situation, ['situation'], { kind: 'formation' }),
    ...play.players.flatMap((player, i) =>
      numbersIn(player, ['players', i], { kind: 'player', player: player.id }),
    ),
    ...perPlayer(play.routes, 'routes', 'route'),
    ...perPlayer(play.motions, 'motions', 'motion'),
    ...play.cards.flatMap((card, i) => malformedCard(play, card, i)),
  ];
}

/** What keeps the play as a whole from being checked. Two men in one place are told, and the rest goes on. */
export const spoilsAll = ({ code, path }: Malformed): boolean =>
  path[0] !== 'cards' && code !== 'twoPlayersOnePlace';

/** What of it spoils a card: its own faults, and those of the drawing it is read on. */
export const spoils = (fault: Malformed, card: ReadCard): boolean =>
  spoilsAll(fault) ||
  (fault.path[0] === 'cards' && 'player' in fault.element && fault.element.player === card.player);

function playersOnce(play: RuledPlay): Malformed[] {
  return play.players.flatMap((player, i): Malformed[] =>
    play.players.findIndex(({ id }) => id === player.id) === i
      ? []
      : [
          {
            code: 'twoPlayersOneId',
            path: ['players', i, 'id'],
            says: `Two players have the id ${player.id}.`,
            mend: 'Give each player an id of his own.',
            element: { kind: 'player', player: player.id },
          },
        ],
  );
}

/** Two men whose middles are nearer than this are drawn in one place. Yards. */
const onePlace = 0.25;

function playersApart({ players }: RuledPlay): Malformed[] {
  return players.flatMap((player, i): Malformed[] => {
    const other = players
      .slice(0, i)
      .find(({ id, at }) => id !== player.id && distance(at, player.at) < onePlace);
    if (!other) return [];
    return [
      {
        code: 'twoPlayersOnePlace',
        path: ['players', i, 'at'],
        says: `${other.label} and ${player.label} stand in one place.`,
        mend: 'Move one of them.',
        element: { kind: 'player', player: player.id },
      },
    ];
  });
}

function perPlayer(
  drawn: RuledPlay['routes'] | RuledPlay['motions'],
  root: 'routes' | 'motions',
  kind: 'route' | 'motion',
): Malformed[] {
  return (Object.entries(drawn) as [keyof typeof drawn, unknown][]).flatMap(([player, value]) =>
    numbersIn(value, [root, player], { kind, player }),
  );
}

function malformedCard(play: RuledPlay, card: ReadCard, i: number): Malformed[] {
  const path = ['cards', i];
  const { player } = card;
  const element: Element = { kind: 'card', player };
  const faults = numbersIn(card.head, [...path, 'head'], element);
  if (play.cards.findIndex((other) => other.player === player) !== i) {
    faults.push({
      code: 'twoCards',
      path: [...path, 'player'],
      says: `${player} has two cards.`,
      mend: 'Put his rows on one card.',
      element,
    });
  }
  faults.push(
    ...twice(card.rows).map(
      (at): Malformed => ({
        code: 'twoRowsOneId',
        path: [...path, 'rows', at, 'id'],
        says: `Two rows of the card have the id ${card.rows[at]?.id}.`,
        mend: 'Give each row an id of its own.',
        element,
      }),
    ),
    ...twice(card.branches).map(
      (at): Malformed => ({
        code: 'twoBranchesOneId',
        path: [...path, 'branches', at, 'id'],
        says: `Two branches of the card have the id ${card.branches[at]?.id}.`,
        mend: 'Give each branch an id of its own.',
        element,
      }),
    ),
    ...card.branches.flatMap((branch, b) =>
      numbersIn(branch, [...path, 'branches', b], { kind: 'branch', player, branch: branch.id }),
    ),
    ...card.rows.flatMap((row, r) =>
      row.conditions.flatMap((condition, c) =>
        malformedCondition(condition, [...path, 'rows', r, 'conditions', c], {
          kind: 'row',
          player,
          row: row.id,
        }),
      ),
    ),
  );
  return faults;
}

const twice = (list: readonly { readonly id: string }[]): number[] => {
  const seen = new Set<string>();
  return list.flatMap(({ id }, i) => {
    if (seen.has(id)) return [i];
    seen.add(id);
    return [];
  });
};

const kindFor = { continuous: 'range', boolean: 'is', enumerated: 'oneOf' } as const;

function malformedCondition(
  condition: Condition,
  path: readonly (string | number)[],
  element: Element,
): Malformed[] {
  const { label, domain, unit } = facts[condition.fact];
  const fault = (
    code: Malformed['code'],
    at: readonly (string | number)[],
    says: string,
    mend: string,
  ): Malformed => ({ code, path: [...path, ...at], says, mend, element });
  const kind = kindFor[domain.kind];
  if (condition.kind !== kind) {
    const says = `${label} cannot be asked with "${condition.kind}".`;
    return [fault('wrongKind', ['kind'], says, `Ask it with "${kind}".`)];
  }
  if (condition.kind === 'range' && domain.kind === 'continuous') {
    const { min, max } = domain;
    const ends: readonly (readonly [string, Bound | null])[] = [
      ['from', condition.from],
      ['to', condition.to],
    ];
    return ends.flatMap(([end, bound]) => {
      if (!bound) return [];
      if (!Number.isFinite(bound.at)) return [notANumber([...path, end, 'at'], element)];
      const says = `${label} lies between ${min} and ${max} ${unit}; ${bound.at} is outside.`;
      return bound.at >= min && bound.at <= max
        ? []
        : [fault('outsideDomain', [end, 'at'], says, `Ask for a value from ${min} to ${max}.`)];
    });
  }
  if (condition.kind === 'oneOf' && domain.kind === 'enumerated') {
    const known = domain.values.join(', ');
    return condition.values.flatMap((value, i) =>
      domain.values.includes(value)
        ? []
        : [
            fault(
              'unknownValue',
              ['values', i],
              `${label} is never "${value}".`,
              `Use one of ${known}.`,
            ),
          ],
    );
  }
  return [];
}

/** Nothing on a field, in a play or on a card is measured in millions. */
const mostEver = 1e6;

const tooLarge = (path: readonly (string | number)[], element: Element): Malformed => ({
  code: 'tooLarge',
  path,
  says: 'This number is too large to be a place, a time or a count.',
  mend: 'Put a smaller number there.',
  element,
});

const notANumber = (path: readonly (string | number)[], element: Element): Malformed => ({
  code: 'notANumber',
  path,
  says: 'This is not a finite number.',
  mend: 'Put a number there.',
  element,
});

/** Every number inside a value that is not finite, or too large. Hardly ever there is one. */
const numbersIn = (
  value: unknown,
  path: readonly (string | number)[],
  element: Element,
): Malformed[] => (isSound(value) ? [] : faultsIn(value, path, element));

function isSound(value: unknown): boolean {
  if (typeof value === 'number') return Math.abs(value) <= mostEver;
  if (typeof value !== 'object' || value === null) return true;
  if (Array.isArray(value)) {
    for (const item of value) if (!isSound(item)) return false;
    return true;
  }
  for (const key in value) if (!isSound((value as Record<string, unknown>)[key])) return false;
  return true;
}

function faultsIn(
  value: unknown,
  path: readonly (string | number)[],
  element: Element,
): Malformed[] {
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) return [notANumber(path, element)];
    return Math.abs(value) <= mostEver ? [] : [tooLarge(path, element)];
  }
  if (Array.isArray(value))
    return value.flatMap((item, i) => faultsIn(item, [...path, i], element));
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, item]) => faultsIn(item, [...path, key], element));
}
