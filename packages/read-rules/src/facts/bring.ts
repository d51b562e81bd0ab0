import type { Point } from '@stemline/football/geometry';
import type { Defender, Move } from '@stemline/football/look';
import { insideSign } from '@stemline/football/route';
import type { FactName } from '../fact-name.ts';
import { insideOf } from '../key.ts';
import { type IntervalSide, nearestIn } from '../space/region.ts';
import { bringMiddle, bringShell } from './bring-deep.ts';
import { type Bring, choosing, type Draft, moving, standing, usualWay } from './draft.ts';
import { middleLinebacker } from './look-facts.ts';
import { levelWithHim, takesRoom } from './room-facts.ts';
import { type Sighting, sideManOf } from './sighting.ts';

/** Clear of where he was in the way. Yards. */
const clear = 1;

const interval =
  (make: (side: IntervalSide, s: Sighting, d: Draft) => readonly Draft[]): Bring =>
  (sighting, draft, side) =>
    side.kind === 'interval' ? make(side, sighting, draft) : [];

const absolute = ({ start, ball }: Sighting, inside: number): number =>
  start.at[0] + inside * insideSign(start.at[0], ball);

/** Stands a defender at an offset where the scan meets him first, the others in its way moved on past him. */
function asKey(sighting: Sighting, draft: Draft, defender: Defender, offset: number): Draft {
  const { card, start, ball } = sighting;
  const { levels, maxDepth, direction, tie } = card.head.key;
  const sign = direction === 'inside' ? 1 : -1;
  const x = absolute(sighting, offset);
  const placed = standing(draft, defender, [x, Math.min(defender.at[1], maxDepth)]);
  return placed.look.defenders.reduce((moved, other) => {
    const along = sign * insideOf(start, other.at[0], ball);
    const isInWay =
      other.id !== defender.id &&
      levels.includes(other.level) &&
      other.at[1] <= maxDepth &&
      along >= -card.head.key.headUp &&
      along <= sign * offset + tie;
    if (!isInWay) return moved;
    return standing(moved, other, [absolute(sighting, offset + sign * (tie + clear)), other.at[1]]);
  }, placed);
}

const bringOffset: Bring = interval((side, sighting, draft) => {
  const { key, look, card, start, ball } = sighting;
  const eligible = look.defenders
    .filter(({ level }) => card.head.key.levels.includes(level))
    .map((defender) => ({ defender, offset: insideOf(start, defender.at[0], ball) }))
    .sort((a, b) => Math.abs(a.offset) - Math.abs(b.offset))
    .slice(0, 4);
  const own = eligible.filter(({ defender }) => defender.id === key?.id);
  return [...own, ...eligible].map(({ defender, offset }) =>
    asKey(sighting, draft, defender, nearestIn(side, offset)),
  );
});

/** Brings somebody the scan can find, where it finds nobody, or two. */
export const bringKey = (sighting: Sighting, draft: Draft): readonly Draft[] => {
  const { headUp, reach, direction } = sighting.card.head.key;
  const [least, most] = direction === 'inside' ? [-headUp, reach] : [-reach, headUp];
  const bound = (at: number) => ({ at, closed: true });
  const anywhere: IntervalSide = {
    kind: 'interval',
    name: 'keyOffset',
    from: bound(least),
    to: bound(most),
    atStart: true,
    atEnd: true,
    whole: true,
  };
  return bringOffset(sighting, draft, anywhere);
};

const bringDepth: Bring = interval((side, { key }, draft) =>
  key ? [standing(draft, key, [key.at[0], nearestIn(side, key.at[1])])] : [],
);

/** Has the key make one of the moves: as he already may, or else in the usual way. */
function withMove(sighting: Sighting, draft: Draft, moves: readonly Move[]): readonly Draft[] {
  const { key } = sighting;
  if (!key) return [];
  const known = key.reactions.filter(({ move }) => moves.includes(move));
  return [
    ...known.map((reaction) => choosing(draft, key.id, reaction)),
    ...moves.map((move) => moving(draft, key, move, usualWay(sighting, key, move))),
  ];
}

const bringMove: Bring = (sighting, draft, side) =>
  side.kind === 'values' ? withMove(sighting, draft, side.values as readonly Move[]) : [];

const bringRush: Bring = (sighting, draft, side) =>
  withMove(
    sighting,
    draft,
    side.kind === 'values' && side.values.includes(true)
      ? ['rush']
      : ['drop', 'sit', 'wall', 'widen'],
  );

const bringCushion: Bring = interval((side, sighting, draft) => {
  const { key, decision } = sighting;
  if (!key) return [];
  const by = sighting.whereAt(key);
  const wanted: Point = [by[0], nearestIn(side, by[1] - decision.at[1]) + decision.at[1]];
  return goingTo(sighting, draft, key, sighting.reactionOf(key).move, wanted);
});

/** Has a defender be at a spot by the decision: from where he stands, or standing as far over as he must go. */
function goingTo(
  sighting: Sighting,
  draft: Draft,
  defender: Defender,
  move: Move,
  spot: Point,
): readonly Draft[] {
  const by = sighting.whereAt(defender);
  const shifted: Point = [defender.at[0] + spot[0] - by[0], defender.at[1] + spot[1] - by[1]];
  const { to } = defender.reactions.find((reaction) => reaction.move === move) ?? { to: spot };
  const further: Point = [to[0] + spot[0] - by[0], to[1] + spot[1] - by[1]];
  const shift = standing(draft, defender, shifted);
  const man = shift.look.defenders.find(({ id }) => id === defender.id);
  return [
    moving(draft, defender, move, spot),
    ...(man ? [moving(shift, man, move, further), moving(shift, man, move, spot)] : []),
  ];
}

const bringSideMan: Bring = (sighting, draft, side) => {
  const { card, look, start, ball, key } = sighting;
  const { width, depth } = card.head.sideMan;
  const away = card.head.key.direction === 'inside' ? -1 : 1;
  const out = (defender: Defender): number => away * insideOf(start, defender.at[0], ball);
  if (side.kind === 'values' && side.values.includes(true)) {
    return look.defenders
      .filter(({ id, level }) => id !== key?.id && level !== 'line')
      .sort((a, b) => Math.abs(out(a) - width / 2) - Math.abs(out(b) - width / 2))
      .slice(0, 4)
      .flatMap((defender) =>
        [width / 2, width].map((yards) =>
          standing(draft, defender, [
            absolute(sighting, away * yards),
            Math.min(defender.at[1], depth),
          ]),
        ),
      );
  }
  const man = sideManOf(sighting);
  if (!man) return [];
  return [
    standing(draft, man, [absolute(sighting, away * (width + clear)), man.at[1]]),
    standing(draft, man, [man.at[0], depth + clear]),
    standing(draft, man, [absolute(sighting, -away * clear), man.at[1]]),
  ];
};

const bringRoom = (toward: 'inside' | 'outside'): Bring =>
  interval((side, sighting, draft) => {
    const { look, decision, runner, ball } = sighting;
    const inside = insideSign(runner.at[0], ball);
    const sign = toward === 'inside' ? inside : -inside;
    const beside = look.defenders
      .filter((defender) => sighting.reactionOf(defender).move !== 'rush')
      .map((defender) => ({
        defender,
        gap: sign * (sighting.whereAt(defender)[0] - decision.at[0]),
      }))
      .sort((a, b) => Math.abs(a.gap) - Math.abs(b.gap));
    const men = beside.filter(({ gap }) => gap >= 0);
    // Where hardly anybody is on that side, a man from the other comes across.
    const across = beside.filter(({ gap }) => gap < 0).slice(0, 2);
    const taking = men.filter(({ defender }) => takesRoom(sighting, defender));
    const now = taking[0]?.gap ?? side.to.at;
    const wanted = nearestIn(side, now);
    const spot = (defender: Defender): Point => {
      const y = sighting.whereAt(defender)[1];
      const near = Math.abs(y - decision.at[1]) <= levelWithHim;
      return [decision.at[0] + sign * wanted, near ? y : decision.at[1] + levelWithHim / 2];
    };
    // Too little room: the nearest man goes further. Too much: one of the nearest comes closer.
    const whom = wanted > now ? taking.slice(0, 1) : [...men.slice(0, 4), ...across];
    return whom.flatMap(({ defender }) => [
      ...(wanted > now
        ? defender.reactions.map((reaction) => choosing(draft, defender.id, reaction))
        : []),
      ...goingTo(sighting, draft, defender, sighting.reactionOf(defender).move, spot(defender)),
    ]);
  });

const bringRushers: Bring = interval((side, sighting, draft) => {
  const { look, key } = sighting;
  const isRushing = (defender: Defender): boolean => sighting.reactionOf(defender).move === 'rush';
  const now = look.defenders.filter(isRushing).length;
  const tooFew = nearestIn(side, now) > now;
  const nearBall = [...look.defenders].sort(
    (a, b) =>
      Math.abs(a.at[0] - sighting.ball) + a.at[1] - Math.abs(b.at[0] - sighting.ball) - b.at[1],
  );
  const order = tooFew ? nearBall : nearBall.reverse();
  return order
    .filter((defender) => defender.id !== key?.id && isRushing(defender) !== tooFew)
    .slice(0, 2)
    .map((defender) => {
      const other = defender.reactions.find(({ move }) => (move === 'rush') === tooFew);
      const move: Move = tooFew ? 'rush' : 'drop';
      return other
        ? choosing(draft, defender.id, other)
        : moving(draft, defender, move, usualWay(sighting, defender, move));
    });
});

const bringMike: Bring = (sighting, draft, side) => {
  const mike = middleLinebacker(sighting);
  if (side.kind !== 'values') return [];
  const { ball, runner, look, key } = sighting;
  const his = -insideSign(runner.at[0], ball);
  const yards: Readonly<Record<string, number>> = {
    toward: 1.5 * his,
    balanced: 0,
    away: -1.5 * his,
  };
  const man =
    mike ??
    look.defenders
      .filter(({ level, id }) => level === 'second' && id !== key?.id)
      .sort((a, b) => Math.abs(a.at[0] - ball) - Math.abs(b.at[0] - ball))[0];
  if (!man) return [];
  return side.values.flatMap((value) => {
    const off = yards[String(value)];
    const wide = [5, -5].map((x) => standing(draft, man, [ball + x, man.at[1]]));
    return off === undefined ? wide : [standing(draft, man, [ball + off, man.at[1]])];
  });
};

/** How each fact is brought about; those not named are settled by the look or the play it starts from. */
export const bring: Partial<Readonly<Record<FactName, Bring>>> = {
  keyOffset: bringOffset,
  keyDepth: bringDepth,
  keyMove: bringMove,
  keyRushes: bringRush,
  cushion: bringCushion,
  manOutside: bringSideMan,
  roomInside: bringRoom('inside'),
  roomOutside: bringRoom('outside'),
  rushers: bringRushers,
  mikeLean: bringMike,
  shell: bringShell,
  middle: bringMiddle,
};
