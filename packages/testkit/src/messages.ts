import { refusalCodeSchema } from '@stemline/board/refusal';
import type { Defender } from '@stemline/football/look';
import type { LiveFinding, RoomMessage } from '@stemline/protocol/message';
import { groupSchema, roleSchema } from '@stemline/protocol/roles';
import { type Finding, findingKindSchema, severitySchema } from '@stemline/read-rules/finding';
import fc from 'fast-check';
import { point } from './cards.ts';
import { handPlayers } from './plays.ts';
import { id, text } from './texts.ts';

const option = <T extends string>(schema: { readonly options: readonly T[] }) =>
  fc.constantFrom(...schema.options);
const instant = fc
  .date({ min: new Date('2000-01-01'), max: new Date('2099-01-01'), noInvalidDate: true })
  .map((date) => date.toISOString());

const defender = fc.record({
  id: id(),
  label: text(4, 1),
  level: fc.constantFrom('line', 'second', 'corner', 'deep'),
  at: point(),
  reactions: fc.array(
    fc.record({
      id: id(),
      move: fc.constantFrom('rush', 'drop', 'wall', 'widen', 'man', 'sit'),
      says: text(40),
      to: point(),
    }),
    { minLength: 1, maxLength: 2 },
  ),
}) as unknown as fc.Arbitrary<Defender>;

const player = fc.constantFrom(...handPlayers().map((each) => each.id));
const element = fc.oneof(
  fc.record({ kind: fc.constantFrom('player', 'route', 'motion', 'card'), player }),
  fc.record({ kind: fc.constant('row'), player, row: id() }),
  fc.record({ kind: fc.constant('branch'), player, branch: id() }),
  fc.constant({ kind: 'formation' }),
) as unknown as fc.Arbitrary<Finding['elements'][number]>;

const finding = fc.record({
  id: text(40, 1),
  kind: option(findingKindSchema),
  severity: option(severitySchema),
  elements: fc.array(element, { minLength: 1, maxLength: 3 }),
  says: text(80),
  mend: text(80),
  witness: fc.option(
    fc.record({
      look: fc.record({
        id: id(),
        name: text(40, 1),
        traits: fc.record({
          front: fc.constantFrom('even', 'odd'),
          shell: fc.constantFrom('zero', 'oneHigh', 'twoHigh'),
          middle: fc.constantFrom('open', 'closed'),
          coverage: fc.constantFrom('man', 'zone', 'match'),
        }),
        defenders: fc.array(defender, { maxLength: 3 }),
      }),
      reactions: fc.dictionary(id(), id(), { maxKeys: 3, noNullPrototype: true }),
      says: text(80),
    }),
  ),
}) as unknown as fc.Arbitrary<Finding>;

const liveFinding: fc.Arbitrary<LiveFinding> = fc.record({
  finding,
  openedAt: instant,
  authors: fc.array(fc.record({ element, what: text(30), name: text(30), at: instant }), {
    maxLength: 2,
  }),
  waived: fc.option(fc.record({ by: text(30), reason: text(60), at: instant })),
});

/** Every kind of message that a room says. */
export const roomMessage = (): fc.Arbitrary<RoomMessage> =>
  fc.oneof(
    fc.record({
      type: fc.constant('hello' as const),
      hello: fc.record({
        documentVersion: fc.nat(),
        member: fc.record({
          id: text(30),
          name: text(40),
          role: option(roleSchema),
          group: option(groupSchema),
        }),
        mayEdit: fc.boolean(),
        positions: fc.option(fc.array(text(3, 1), { maxLength: 3 })),
      }),
    }),
    fc.record({
      type: fc.constant('saved' as const),
      stateVector: fc.uint8Array({ maxLength: 64 }),
      updates: fc.nat(),
    }),
    fc.record({
      type: fc.constant('refused' as const),
      refused: fc.record({
        code: option(refusalCodeSchema),
        why: text(80),
        mend: text(80),
        elements: fc.array(text(30), { maxLength: 3 }),
      }),
    }),
    fc.record({
      type: fc.constant('findings' as const),
      findings: fc.array(liveFinding, { maxLength: 3 }),
    }),
    fc.record({
      type: fc.constant('event' as const),
      event: fc.oneof(
        fc.record({
          kind: fc.constantFrom(
            'comments' as const,
            'changes' as const,
            'looks' as const,
            'access' as const,
          ),
        }),
        fc.record({ kind: fc.constant('saving' as const), behind: fc.boolean() }),
        fc.record({ kind: fc.constant('servers' as const), away: fc.boolean() }),
      ),
    }),
  );
