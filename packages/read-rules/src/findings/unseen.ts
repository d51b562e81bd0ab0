import { atSnap } from '@stemline/football/snap';
import type { Branch, Row } from '../card.ts';
import { decideDepth, secondsToDecide } from '../decision.ts';
import { branchOf } from '../evaluate.ts';
import type { FactName } from '../fact-name.ts';
import { facts } from '../facts.ts';
import type { Finding } from '../finding.ts';
import { mendsForUnseen } from '../mends/depths.ts';
import { type Reader, readerOf } from '../reader.ts';
import { capital } from '../reasons.ts';
import { yards } from '../words.ts';
import { findingId } from './finding-id.ts';
import { type OnCard, rowElement, rowName } from './on-card.ts';

/** A row that asks for what its player cannot see, or cannot see by the time the row's branch is decided. */
export function unseen(on: OnCard): Finding[] {
  const reader = readerOf(on.play, on.card);
  return on.card.rows.flatMap((row) => {
    const asked = [...new Set(row.conditions.map(({ fact }) => fact))];
    return asked.flatMap((fact) => {
      const why = whyUnseen(on, row, fact, reader);
      return why ? [findingOf(on, row, fact, reader, why)] : [];
    });
  });
}

const whoSees: Readonly<Record<Reader, string>> = {
  runner: 'A man running his route',
  passer: 'The passer',
  blocker: 'A blocker',
};

interface Why {
  readonly never: boolean;
  readonly says: string;
}

function whyUnseen(on: OnCard, row: Row, fact: FactName, reader: Reader): Why | null {
  const sight = facts[fact].seenBy[reader];
  const branch = branchOf(on.card, row.branch);
  switch (sight.when) {
    case 'beforeSnap':
      return null;
    case 'never':
      return { never: true, says: `${whoSees[reader]} cannot see it.` };
    case 'afterSnap': {
      const by = branch && secondsBy(on, branch);
      return by !== null && by < sight.seconds
        ? {
            never: false,
            says: `It shows ${yards(sight.seconds)} s after the snap, and he decides at ${yards(Math.floor(by * 10) / 10)} s.`,
          }
        : null;
    }
    case 'byDepth': {
      const depth = branch && decideDepth(branch);
      return depth !== null && depth < sight.yards
        ? {
            never: false,
            says: `He can see it from ${yards(sight.yards)} yd on, and decides by ${yards(depth)}.`,
          }
        : null;
    }
  }
}

function secondsBy({ play, card }: OnCard, branch: Branch): number | null {
  const player = atSnap(play).find(({ id }) => id === card.player);
  return player ? secondsToDecide(play, player, branch) : null;
}

function findingOf(on: OnCard, row: Row, fact: FactName, reader: Reader, why: Why): Finding {
  const { card, who } = on;
  const { label } = facts[fact];
  return {
    id: findingId('unseen', [card.player, row.id, fact]),
    kind: 'unseen',
    severity: why.never ? 'stop' : 'warn',
    elements: [rowElement(card, row.id)],
    says: `${capital(rowName(card, row.id))} asks ${who} about "${label}". ${why.says}`,
    mend: why.never
      ? reader === 'passer'
        ? 'Ask about something he can see.'
        : "Ask about something he can see, or give this read to the passer's card."
      : 'Decide later, or ask about something that shows sooner.',
    witness: null,
    mends: why.never ? [] : mendsForUnseen(on, row, fact, facts[fact].seenBy[reader]),
  };
}
