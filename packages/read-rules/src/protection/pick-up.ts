import type { Defender } from '@stemline/football/look';
import type { Player } from '@stemline/football/play';
import type { Blocking, HelpingMan } from './blockers.ts';

/** Who rushes before a look, and who has him. */
export interface PickUp {
  readonly blocks: readonly { readonly blocker: Player; readonly rusher: Defender }[];
  /** Nobody has them. */
  readonly free: readonly Defender[];
  readonly rushers: number;
}

/** Which helpers may take which man; a card lets its player take nobody but his key. */
export type MayTake = (helper: HelpingMan, rusher: Defender) => boolean;

/** A man on the line reaches to the far shoulder of the next man on either side. Yards. */
const reach = 2;
/** The outermost reaches a man off the edge. Yards. */
const edgeReach = 4.5;
/** Who slides reaches no further the other way than the man on his shoulder. Yards. */
const slideBehind = 0.6;
/** The last man of a slide turns back on a man over him, but not on one off the edge. Yards. */
const hinge = 1;
/** A back who is called to a side takes who comes up to this far on the other side of the ball. Yards. */
const acrossBall = 1.5;
/** Nobody comes to the line wider than this outside the last blocker; he is on the edge. Yards. */
const widestEntry = 3;
/** Leaving one man free outweighs whoever it is. */
const oneFree = 1000;

/** The blockers as they stand before anybody is seen, with how far each reaches. */
export interface Front extends Pick<Blocking, 'ball'> {
  readonly inLine: readonly {
    readonly player: Player;
    readonly helper: HelpingMan | null;
    /** Across the field. */
    readonly from: number;
    readonly to: number;
  }[];
  readonly behind: readonly HelpingMan[];
}

export function frontOf({ line, helpers, ball, slide }: Blocking): Front {
  const inLine = [
    ...line.map((player) => ({ player, helper: null as HelpingMan | null })),
    ...helpers.filter(({ onLine }) => onLine).map((helper) => ({ player: helper.player, helper })),
  ].sort((a, b) => a.player.at[0] - b.player.at[0]);
  const last = inLine.length - 1;
  return {
    ball,
    behind: helpers.filter(({ onLine }) => !onLine),
    inLine: inLine.map(({ player, helper }, i) => {
      const slides = helper === null && doesSlide(slide, line.indexOf(player)) ? slide : null;
      return {
        player,
        helper,
        from: player.at[0] - reaches(slides, -1, i === 0),
        to: player.at[0] + reaches(slides, 1, i === last),
      };
    }),
  };
}

function reaches(slides: Blocking['slide'], side: -1 | 1, isEnd: boolean): number {
  if (slides && slides.toward !== side) return isEnd ? hinge : slideBehind;
  return isEnd ? edgeReach : reach;
}

interface Step {
  readonly cost: number;
  readonly next: Step | null;
  readonly block: { readonly blocker: Player; readonly rusher: Defender } | null;
  readonly free: Defender | null;
}
const done: Step = { cost: 0, next: null, block: null, free: null };

const cheaper = (best: Step, blocker: Player, rusher: Defender, next: Step): Step =>
  next.cost < best.cost ? { cost: next.cost, next, block: { blocker, rusher }, free: null } : best;

/**
 * Who has whom. Men on the line block side by side and never cross; a back steps in front of anybody
 * on his side. As few as can be are left free, and of those ways the one whose free men need longest:
 * the line blocks from the inside out. Where no slide is called each may go either way, as a line is
 * set to what it sees.
 `rushers` from left to right.
 */
export function pickUp(
  { inLine, behind, ball }: Front,
  rushers: readonly Defender[],
  arrives: (rusher: Defender) => number,
  mayTake: MayTake,
): PickUp {
  const [left, right] = [inLine[0]?.player.at[0] ?? ball, inLine.at(-1)?.player.at[0] ?? ball];
  const entries = rushers.map(({ at }) =>
    Math.min(Math.max(at[0], left - widestEntry), right + widestEntry),
  );
  const known = new Map<number, Step>();
  const from = (i: number, j: number, used: number): Step => {
    const rusher = rushers[j];
    if (!rusher) return done;
    const key = (i * 16 + j) * 16 + used;
    const before = known.get(key);
    if (before) return before;
    const leaving = from(i, j + 1, used);
    // Within one count of free men the slowest is left: his seconds are taken off.
    let best: Step = {
      cost: leaving.cost + oneFree - 10 * Math.min(9, arrives(rusher)),
      next: leaving,
      block: null,
      free: rusher,
    };
    for (let k = i; k < inLine.length; k++) {
      const man = inLine[k];
      const entry = entries[j] as number;
      if (!man || entry < man.from || entry > man.to) continue;
      if (man.helper && !mayTake(man.helper, rusher)) continue;
      best = cheaper(best, man.player, rusher, from(k + 1, j + 1, used));
    }
    for (const [b, helper] of behind.entries()) {
      const bit = 1 << b;
      if (used & bit || b > 3 || !mayTake(helper, rusher)) continue;
      if (helper.side !== 0 && helper.side * (rusher.at[0] - ball) < -acrossBall) continue;
      best = cheaper(best, helper.player, rusher, from(i, j + 1, used | bit));
    }
    known.set(key, best);
    return best;
  };
  const first = from(0, 0, 0);
  const blocks: { blocker: Player; rusher: Defender }[] = [];
  const free: Defender[] = [];
  for (let step: Step | null = first; step; step = step.next) {
    if (step.block) blocks.push(step.block);
    if (step.free) free.push(step.free);
  }
  return { blocks, free, rushers: rushers.length };
}

/** Full: all five. Half: the centre and the two on the side that it goes to. */
const doesSlide = (slide: Blocking['slide'], index: number): boolean =>
  slide !== null &&
  (slide.kind === 'full' ||
    (slide.kind === 'half' && (slide.toward === 1 ? index >= 2 : index <= 2)));
