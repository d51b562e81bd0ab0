import type { ReadCard, Row } from '../card.ts';
import { answerOf, rowsThatFit } from '../evaluate.ts';
import type { Finding } from '../finding.ts';
import { defaults, mendsForClash, mendsForGap, removal } from '../mends/rows.ts';
import type { NeverUsed, Overlap, Proof } from '../prove.ts';
import { capital } from '../reasons.ts';
import { describeRegion } from '../sentence.ts';
import { type Region, regionText } from '../space/region.ts';
import { type Bench, benchOf, type Claim } from '../witness/bench.ts';
import { findWitness } from '../witness.ts';
import { both, either } from '../words.ts';
import { findingId } from './finding-id.ts';
import { cardElement, leadsTo, type OnCard, rowElement, rowName } from './on-card.ts';

/** Findings of one kind on one card that are told one by one; the rest are counted. */
const mostTold = 40;

/** What the proof of a card comes to: gaps, clashes, rows never used, and a default that is missing. */
export function proved(on: OnCard): Finding[] {
  const { card, looks, reader, proof } = on;
  if (card.rows.length === 0 || !reader || !proof) return [];
  const { setting } = reader;
  const bench = once(() => benchOf({ ...setting, card }, looks));
  return [
    ...gaps(on, bench, proof),
    ...clashes(on, bench, proof),
    ...proof.neverUsed.map((one) => neverUsed(on, one)),
    ...noDefault(on, proof),
    ...(proof.complete ? [] : [tooTangled(on)]),
  ];
}

/** Most cards have nothing to be witnessed. */
function once<Out>(work: () => Out): () => Out {
  let known: { readonly out: Out } | null = null;
  return () => {
    known ??= { out: work() };
    return known.out;
  };
}

function gaps(on: OnCard, bench: () => Bench, { gaps: regions }: Proof): Finding[] {
  const { card } = on;
  // When in doubt answers everything that no row does.
  if (card.head.whenInDoubt !== null) return [];
  return told(
    on,
    'gap',
    regions.map((region) => () => gap(on, bench, region)),
  );
}

function gap(on: OnCard, bench: () => Bench, region: Region): Finding {
  const { card, who } = on;
  const witness = findWitness(bench(), [region], isUnanswered(card));
  const when = describeRegion(card, region);
  const says = when ? `When ${when}, no row answers.` : `No row of ${who}'s card answers anything.`;
  return {
    id: findingId('gap', [card.player], regionText(region)),
    kind: 'gap',
    severity: witness ? 'stop' : 'note',
    elements: [cardElement(card)],
    says: witness ? says : `${says} ${notFound}`,
    mend: `Add a row for it to ${who}'s card, widen one that is near, or say what he does when in doubt.`,
    witness,
    mends: mendsForGap(on, region),
  };
}

const notFound = 'No defense was found that does this, so it may never come up.';

const isUnanswered =
  (card: ReadCard): Claim =>
  ({ sighting, known }) =>
    answerOf(card, sighting.selected, rowsThatFit(card, known)).row === null;

function clashes(on: OnCard, bench: () => Bench, { overlaps, neverUsed: never }: Proof): Finding[] {
  const hidden = new Set(never.map(({ row }) => row));
  // Where a row is never used and agrees, that says it all.
  const worth = overlaps.filter(
    ({ agree, rows }) => !agree || !rows.some((row) => hidden.has(row)),
  );
  return told(
    on,
    'clash',
    worth.map((overlap) => () => clash(on, bench, overlap)),
  );
}

function clash(on: OnCard, bench: () => Bench, { rows, regions, agree }: Overlap): Finding {
  const { card } = on;
  const members = rows.map((id) => card.rows.find((row) => row.id === id)).filter((row) => !!row);
  const witness = findWitness(bench(), regions, allFit(card, members));
  const names = both(members.map((row) => rowName(card, row.id)));
  const every = members.length === 2 ? 'both' : 'all';
  const when = either(
    regions
      .slice(0, 2)
      .map((region) => describeRegion(card, region))
      .filter(Boolean),
  );
  const lead = when ? `When ${when}, ` : '';
  const answers = agree
    ? `${names} ${every} say ${members[0] ? leadsTo(card, members[0]) : ''}: one is enough.`
    : `${names} ${every} answer and disagree: ${both([...new Set(members.map((row) => leadsTo(card, row)))])}.`;
  return {
    id: findingId(
      'clash',
      [card.player, rows.join('+').slice(0, 80)],
      regions.map(regionText).join(),
    ),
    kind: 'clash',
    severity: agree || !witness ? 'note' : 'stop',
    elements: members.map((row) => rowElement(card, row.id)),
    says: `${capital(lead + answers)}${witness ? '' : ` ${notFound}`}`,
    mend: agree
      ? 'Narrow one of them, or join them into one row.'
      : `Narrow one of them so that only one answers, or let the first row that fits decide.`,
    witness,
    mends: mendsForClash(on, members, agree),
  };
}

/** All of them fit, and it is they who are asked: a card may answer for no key before any row. */
const allFit =
  (card: ReadCard, rows: readonly Row[]): Claim =>
  ({ sighting, known }) => {
    const fits = rowsThatFit(card, known);
    return (
      rows.every((row) => fits.includes(row)) &&
      answerOf(card, sighting.selected, fits).row !== 'noKey'
    );
  };

function neverUsed(on: OnCard, { row: id, because, by }: NeverUsed): Finding {
  const { card, who } = on;
  const name = rowName(card, id);
  const others = both(by.slice(0, 3).map((row) => rowName(card, row)));
  const more = by.length > 3 ? ` and ${by.length - 3} more` : '';
  const words = {
    neverTrue: {
      says: `${capital(name)} of ${who}'s card can never fit: nothing a defense does meets all it asks, or the scan never looks there.`,
      mend: 'Change what it asks, or remove it.',
    },
    notOnThisPlay: {
      says: `${capital(name)} of ${who}'s card does not come up on this play as it is drawn: it asks for another formation, field position or down.`,
      mend: 'Keep it if the card is meant for other plays too, or remove it.',
    },
    covered:
      card.head.policy === 'first'
        ? {
            says: `${capital(name)} of ${who}'s card is never reached: ${others}${more} always ${by.length === 1 ? 'fits' : 'fit'} before it.`,
            mend: `Move it up, narrow ${others}, or remove it.`,
          }
        : {
            says: `${capital(name)} of ${who}'s card never answers alone: wherever it fits, ${others}${more} ${by.length === 1 ? 'fits' : 'fit'} too.`,
            mend: `Remove it, or narrow ${others}.`,
          },
  }[because];
  return {
    id: findingId('neverUsed', [card.player, id, because]),
    kind: 'neverUsed',
    severity: because === 'notOnThisPlay' ? 'note' : 'warn',
    elements: [rowElement(card, id), ...by.slice(0, 3).map((row) => rowElement(card, row))],
    ...words,
    witness: null,
    mends: removal(on, id),
  };
}

function noDefault(on: OnCard, { gaps: regions }: Proof): Finding[] {
  const { card, who } = on;
  if (card.head.whenInDoubt !== null) return [];
  const isComplete = regions.length === 0;
  return [
    {
      id: findingId('noDefault', [card.player]),
      kind: 'noDefault',
      severity: isComplete ? 'note' : 'warn',
      elements: [cardElement(card)],
      says: isComplete
        ? `${who}'s rows answer everything, but when he cannot tell what he sees the card gives him nothing to fall back on.`
        : `${who}'s card does not say what he does when in doubt.`,
      mend: `Choose the branch ${who} takes when in doubt.`,
      witness: null,
      mends: defaults(on),
    },
  ];
}

const tooTangled = ({ card, who }: OnCard): Finding => ({
  id: findingId('unfinished', [card.player, 'tangled']),
  kind: 'unfinished',
  severity: 'warn',
  elements: [cardElement(card)],
  says: `${who}'s card has too many rows that cross each other to be proved whole: there may be more gaps and clashes than are told.`,
  mend: 'Split the card, or ask about fewer facts in one row.',
  witness: null,
});

/** Tells the first ones in full; what is beyond the bound is counted in one finding. */
function told(
  { card, who }: OnCard,
  kind: 'gap' | 'clash',
  findings: readonly (() => Finding)[],
): Finding[] {
  const rest = findings.length - mostTold;
  const first = findings.slice(0, mostTold).map((make) => make());
  if (rest <= 0) return first;
  return [
    ...first,
    {
      id: findingId(kind, [card.player, 'more']),
      kind,
      severity: 'warn',
      elements: [cardElement(card)],
      says: `${who}'s card has ${rest} more ${kind === 'gap' ? 'gaps' : 'clashes'}, not told one by one.`,
      mend: 'Settle the first ones; many go together.',
      witness: null,
    },
  ];
}
