import type { PlayerId } from '@stemline/football/ids';
import type { Player } from '@stemline/football/play';
import { builtInLooks, type LookRecipe } from '@stemline/football/shelf';
import type { Branch, ReadCard } from '@stemline/read-rules/card';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { moved } from './plays.ts';

/** What a coach has before him: one play and his shelf. */
export interface Desk {
  readonly play: RuledPlay;
  readonly shelf: readonly LookRecipe[];
}

type Edit = (desk: Desk, i: number) => Desk;

const onPlay =
  (edit: (play: RuledPlay, i: number) => RuledPlay): Edit =>
  ({ play, shelf }, i) => ({ play: edit(play, i), shelf });

const throws = ({ branches }: ReadCard): boolean => branches.some(({ kind }) => kind === 'target');
const runs = ({ branches }: ReadCard): boolean => branches.some(({ kind }) => kind === 'route');

/** An edit of the first card of a sort. */
const onCard = (sort: (card: ReadCard) => boolean, edit: (card: ReadCard, i: number) => ReadCard) =>
  onPlay((play, i) => {
    const card = play.cards.find(sort);
    return card
      ? { ...play, cards: play.cards.map((one) => (one === card ? edit(card, i) : one)) }
      : play;
  });

/** A man further out by 5 to 50 cm, who is no passer's, or the one asked for. */
const moving = (whom: (play: RuledPlay) => PlayerId | undefined) =>
  onPlay((play, i) => {
    const id = whom(play);
    const by = ((i % 10) + 1) / 20;
    return {
      ...play,
      players: play.players.map((one) =>
        one.id === id ? { ...one, at: [one.at[0] + by, one.at[1]] as const } : one,
      ),
    };
  });

const first = (is: (player: Player, play: RuledPlay) => boolean) => (play: RuledPlay) =>
  play.players.find((player) => is(player, play))?.id;
const hasCard = ({ id }: Player, { cards }: RuledPlay): boolean =>
  cards.some(({ player }) => player === id);
const isTarget = (id: string, { cards }: RuledPlay): boolean =>
  cards.some(({ branches }) =>
    branches.some((branch) => branch.kind === 'target' && branch.player === id),
  );

/** The drawn route of the first man of a sort, its break 5 to 50 cm deeper. */
const redrawn = (is: (id: string, play: RuledPlay) => boolean) =>
  onPlay((play, i) => {
    const id = (Object.keys(play.routes) as PlayerId[]).find((one) => is(one, play));
    const route = id && play.routes[id];
    if (!route) return play;
    const stem = route.stem.map(([x, y]) => [x, y + ((i % 10) + 1) / 20] as const);
    return { ...play, routes: { ...play.routes, [id]: { ...route, stem } } };
  });

const onBranch = (change: (branch: Extract<Branch, { kind: 'route' }>, i: number) => Branch) =>
  onCard(runs, (card, i) => {
    const branch = card.branches.find((one) => one.kind === 'route');
    return {
      ...card,
      branches: card.branches.map((one) =>
        one === branch && one.kind === 'route' ? change(one, i) : one,
      ),
    };
  });

const drops = ['gun-three-step', 'gun-catch-and-throw', 'gun-five-step'] as const;
const slides = ['left', 'right'] as const;

/** Edits as coaches make them, each of another kind. */
export const edits: Readonly<Record<string, Edit>> = {
  'a word on a row': onCard(runs, (card, i) => ({
    ...card,
    rows: card.rows.map((row, r) => (r === 0 ? { ...row, says: `as taught ${i}` } : row)),
  })),
  'the order of the rows': onCard(runs, ({ rows: [row, ...rows], ...card }) => ({
    ...card,
    rows: row ? [...rows, row] : rows,
  })),
  'what a row asks': onCard(runs, (card, i) => ({
    ...card,
    rows: card.rows.map((row) => ({
      ...row,
      conditions: row.conditions.map((condition) =>
        condition.kind === 'range' && condition.from
          ? { ...condition, from: { ...condition.from, at: condition.from.at + (i % 10) / 100 } }
          : condition,
      ),
    })),
  })),
  "a row of the passer's card": onCard(throws, ({ rows: [row, ...rows], ...card }) => ({
    ...card,
    rows: row ? [...rows, row] : rows,
  })),
  'how a key is found': onCard(runs, (card, i) => ({
    ...card,
    head: {
      ...card.head,
      key: { ...card.head.key, reach: card.head.key.reach - ((i % 10) + 1) / 20 },
    },
  })),
  'where a branch breaks': onBranch((branch, i) => ({
    ...branch,
    breakAt: { ...branch.breakAt, from: branch.breakAt.to, to: branch.breakAt.to + (i % 10) / 20 },
  })),
  'when a branch is decided': onBranch((branch, i) => ({
    ...branch,
    decideBy: branch.decideBy - ((i % 10) + 1) / 20,
  })),
  'the route of a man thrown to': redrawn((id, play) => isTarget(id, play)),
  'the route of another man': redrawn((id, play) => !isTarget(id, play)),
  'the man with the card moved': moving(
    first((player, play) => hasCard(player, play) && player.position !== 'QB'),
  ),
  'another receiver moved': moving(
    first((player, play) => player.position === 'WR' && !hasCard(player, play)),
  ),
  'a back moved': moving(first(({ position }) => position === 'RB')),
  'a lineman moved': moving(first(({ position }) => position === 'T')),
  'the passer moved': moving(first(({ position }) => position === 'QB')),
  'the last man moved': onPlay((play, i) => moved(play, i)),
  'the drop': onPlay((play, i) => ({ ...play, drop: drops[i % 3] ?? 'gun-three-step' })),
  'the protection': onPlay((play, i) => ({
    ...play,
    protection: { id: 'six-half', toward: slides[i % 2] ?? 'left' },
  })),
  'the name of the play': onPlay((play, i) => ({ ...play, name: `Play ${i}` })),
  // Notes are on the board and no part of the play: the same play comes once more.
  'a note': ({ play, shelf }) => ({ play: { ...play }, shelf }),
  'a look': ({ play, shelf }, i) => ({
    play,
    shelf: shelf.map((look, l) => {
      const other = builtInLooks[24 + (i % 4)];
      return l === i % shelf.length && other ? { ...other, id: look.id, name: look.name } : look;
    }),
  }),
  'the down': onPlay((play, i) => ({
    ...play,
    situation: { ...play.situation, down: 1 + (i % 4), toGain: 1 + (i % 9) },
  })),
};
