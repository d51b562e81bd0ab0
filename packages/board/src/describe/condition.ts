import type { Condition, ReadCard, Row } from '@stemline/read-rules/card';
import { facts } from '@stemline/read-rules/facts';
import { describeRegion } from '@stemline/read-rules/sentence';
import type { Side } from '@stemline/read-rules/space/region';

/** A condition as the side of a region, which read rules have words for; null where it cannot be asked of its fact. */
function sideOf(condition: Condition): Side | null {
  const { fact: name } = condition;
  const { domain } = facts[name];
  switch (condition.kind) {
    case 'is':
      return domain.kind === 'boolean'
        ? { kind: 'values', name, values: [condition.value], whole: false }
        : null;
    case 'oneOf':
      return domain.kind === 'enumerated'
        ? { kind: 'values', name, values: condition.values, whole: false }
        : null;
    case 'range': {
      if (domain.kind !== 'continuous') return null;
      const { from, to } = condition;
      return {
        kind: 'interval',
        name,
        from: from ?? { at: domain.min, closed: true },
        to: to ?? { at: domain.max, closed: true },
        atStart: from === null,
        atEnd: to === null,
        whole: from === null && to === null,
      };
    }
  }
}

/** "whether the key rushes and the front is odd"; "nothing" for a row that always fits. */
export function conditionsInWords(card: ReadCard, { conditions }: Row): string {
  const sides = conditions.map(sideOf);
  const asked = describeRegion(
    card,
    sides.filter((side) => side !== null),
  );
  const words = asked === '' ? 'nothing' : `whether ${asked}`;
  return sides.includes(null) ? `${words}, and something that has no answer` : words;
}
