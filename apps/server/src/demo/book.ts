import type { NoteNode } from '@stemline/board/board-play';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import type { PersonName } from './people.ts';
import { lantern, lanternTight, lanternTrips } from './plays/lantern.ts';
import { anvil, juniper, quarry, tidewater, tiller } from './plays/others.ts';

/** One board of the demo staff's book. */
export interface DemoBoard {
  readonly play: RuledPlay;
  readonly author: PersonName;
  /** Elements (board/element-key) that somebody else set last. */
  readonly setBy?: Readonly<Record<string, PersonName>>;
  readonly notes: readonly NoteNode[];
  readonly comments?: readonly { by: PersonName; anchor: string; text: string }[];
  /** Signed off once by the head coach, or waiting for him. */
  readonly signOff?: 'signed' | 'sentUp';
}

const heading = (text: string): NoteNode => ({
  type: 'heading',
  attrs: { level: 3 },
  content: [{ type: 'text', text }],
});
const paragraph = (text: string): NoteNode => ({
  type: 'paragraph',
  content: [{ type: 'text', text }],
});

const phases: readonly NoteNode[] = [
  heading('How we teach it'),
  paragraph(
    'Day 1: stance, stem and the break on air. Everybody breaks at the same cone, 5 to 6 yards.',
  ),
  paragraph(
    'Day 2: one coach stands as the key. In, or pivot out; eyes to the quarterback at once.',
  ),
  paragraph('Day 3: two coaches stand as a bracket. Sit, unless the inside man leaves.'),
];

export const book: readonly DemoBoard[] = [
  {
    play: lantern,
    author: 'marcus',
    setBy: { 'cards/h': 'ruth', 'rows/h.skinny': 'ruth', 'rows/h.bracket': 'ruth' },
    notes: phases,
    comments: [
      {
        by: 'tomas',
        anchor: 'rows/h.skinny',
        text: 'Their middle linebacker cheats to the slot on third down. Skinny is right, but no steeper than drawn, or he drops into it.',
      },
    ],
    signOff: 'signed',
  },
  {
    play: lanternTrips,
    author: 'ruth',
    notes: [heading('Still open'), paragraph('What if they bracket H and nobody leaves?')],
  },
  {
    play: lanternTight,
    author: 'marcus',
    setBy: { 'rows/h.bracket': 'ruth', 'branches/h.sit': 'ruth' },
    notes: phases.slice(0, 2),
    comments: [
      {
        by: 'tomas',
        anchor: 'cards/h',
        text: 'H told me he had two answers against the odd front.',
      },
    ],
  },
  { play: quarry, author: 'marcus', notes: phases.slice(0, 1), signOff: 'signed' },
  { play: juniper, author: 'ruth', notes: [], signOff: 'sentUp' },
  { play: anvil, author: 'ruth', notes: [] },
  { play: tiller, author: 'samir', notes: [] },
  { play: tidewater, author: 'marcus', notes: [] },
];
