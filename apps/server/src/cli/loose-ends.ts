import type { RuledPlay } from '@stemline/read-rules/ruled-play';

/** A place in a play that a file must not leave open. */
export interface LooseEnd {
  /** From the play down, as keys and indices. */
  readonly path: readonly (string | number)[];
  readonly says: string;
  readonly mend: string;
}

/**
 * What a board may hold while it is drawn, and a finished file may not: a card that answers nothing,
 * and a way for somebody who is not there.
 */
export function looseEnds({ players, routes, motions, cards }: RuledPlay): readonly LooseEnd[] {
  const there = new Set<string>(players.map(({ id }) => id));
  const ofNobody = (root: 'routes' | 'motions', drawn: object): LooseEnd[] =>
    Object.keys(drawn)
      .filter((id) => !there.has(id))
      .map((id) => ({
        path: [root, id],
        says: `${id} is not on the field.`,
        mend: 'Put him there, or take this away.',
      }));
  return [
    ...ofNobody('routes', routes),
    ...ofNobody('motions', motions),
    ...cards.flatMap(({ player, rows }, i) =>
      rows.length > 0
        ? []
        : [
            {
              path: ['cards', i, 'rows'],
              says: `The card of ${player} has no rows.`,
              mend: 'Add a row for the first thing he may see, or remove the card.',
            },
          ],
    ),
  ];
}
