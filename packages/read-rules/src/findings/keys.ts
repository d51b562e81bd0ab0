import type { AlignedLook, Defender } from '@stemline/football/look';
import { readsKey } from '../evaluate.ts';
import type { Finding, Witness } from '../finding.ts';
import { both } from '../words.ts';
import { findingId } from './finding-id.ts';
import { cardElement, type OnCard } from './on-card.ts';

/** Looks of the shelf before which the scan finds nobody, or two it cannot tell apart. */
export function keys(on: OnCard): Finding[] {
  const { card, looks, reader } = on;
  if (!reader) return [];
  const reads = readsKey(card);
  const selected = looks.map((look) => ({ look, result: reader.before(look).key }));
  const none = selected.filter(({ result }) => result.kind === 'none').map(({ look }) => look);
  const ties = selected.flatMap(({ look, result }) =>
    result.kind === 'tie' ? [{ look, defenders: result.defenders }] : [],
  );
  return [
    ...(reads && card.head.noKey === null ? noKey(on, none) : []),
    ...(reads ? twoKeys(on, ties) : []),
  ];
}

function noKey({ card, who }: OnCard, looks: readonly AlignedLook[]): Finding[] {
  const [first] = looks;
  if (!first) return [];
  const { whenInDoubt } = card.head;
  return [
    {
      id: findingId('noKey', [card.player], looks.map(({ id }) => id).join()),
      kind: 'noKey',
      severity: whenInDoubt === null ? 'stop' : 'warn',
      elements: [cardElement(card)],
      says: `Against ${namesOf(looks)} ${who} finds no key, and the card does not say what he does then${whenInDoubt === null ? '' : ': he is left with when in doubt'}.`,
      mend: 'Say what he does without a key, or widen the scan.',
      witness: witness(first, 'the scan finds no key'),
    },
  ];
}

function twoKeys(
  { card, who }: OnCard,
  ties: readonly { look: AlignedLook; defenders: readonly Defender[] }[],
): Finding[] {
  const [first] = ties;
  if (!first) return [];
  const labels = both(first.defenders.map(({ label }) => label));
  return [
    {
      id: findingId('twoKeys', [card.player], ties.map(({ look }) => look.id).join()),
      kind: 'twoKeys',
      severity: card.head.whenInDoubt === null ? 'stop' : 'warn',
      elements: [cardElement(card)],
      says: `Against ${namesOf(ties.map(({ look }) => look))} ${who} cannot tell his key: ${labels} stand too close together${ties.length > 1 ? ' in the first of them' : ''}.`,
      mend: 'Leave out a level or a depth, or narrow what counts as a tie.',
      witness: witness(first.look, `${labels} are both the first man`),
    },
  ];
}

/** The first two by name, the rest by number. */
function namesOf(looks: readonly AlignedLook[]): string {
  const names = looks.slice(0, 2).map(({ name }) => `"${name}"`);
  const rest = looks.length - names.length;
  return both(rest > 0 ? [...names, `${rest} more ${rest === 1 ? 'look' : 'looks'}`] : names);
}

const witness = (look: AlignedLook, says: string): Witness => ({ look, reactions: {}, says });
