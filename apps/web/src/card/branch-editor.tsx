import { Button, Group, NativeSelect, Stack, Text } from '@mantine/core';
import { subtract } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import type { Release } from '@stemline/football/play';
import { breakPoint } from '@stemline/football/route';
import type { Branch, Finish, ReadCard, RouteBranch } from '@stemline/read-rules/card';
import { releaseNames } from '../board/route-panel.tsx';
import { wrongOf } from '../board/wrong.ts';
import { DraftNumber } from '../common/draft-number.tsx';
import { DraftText } from '../common/draft-text.tsx';
import { useBoard, usePlay } from '../live/hooks.ts';
import classes from './card-panel.module.css';

const finishNames: Record<Finish['kind'], string> = {
  in: 'breaks in',
  out: 'breaks out',
  sit: 'sits',
  on: 'runs on',
  path: 'as drawn',
};

/** Another way to finish, keeping what both have. */
function finishOf(kind: Finish['kind'], old: Finish): Finish | null {
  const run = 'run' in old ? old.run : 6;
  switch (kind) {
    case 'in':
    case 'out':
      return { kind, angle: 'angle' in old ? old.angle : kind === 'in' ? 60 : 90, run };
    case 'on':
      return { kind, run };
    case 'sit':
      return { kind };
    case 'path':
      return null;
  }
}

function RouteFields({
  card,
  branch,
  set,
}: {
  card: ReadCard;
  branch: RouteBranch;
  set: (change: Partial<RouteBranch>) => string | null;
}) {
  const play = usePlay();
  const player = play.players.find(({ id }) => id === card.player);
  const route = play.routes[card.player];
  const { finish } = branch;
  const drawn: Finish | null =
    player && route && route.finish.length > 0
      ? {
          kind: 'path',
          points: route.finish.map((offset) =>
            subtract(
              [player.at[0] + offset[0], player.at[1] + offset[1]],
              breakPoint(player, route),
            ),
          ),
        }
      : null;
  const number = (label: string, value: number, keep: (value: number) => string | null) => (
    <DraftNumber label={label} size="xs" value={value} keep={(n) => keep(n ?? 0)} />
  );
  return (
    <>
      <div className={classes.fields}>
        <NativeSelect
          label="He"
          size="xs"
          value={finish.kind}
          onChange={({ currentTarget }) => {
            const next = finishOf(currentTarget.value as Finish['kind'], finish) ?? drawn;
            if (next) set({ finish: next });
          }}
          data={Object.entries(finishNames).map(([value, label]) => ({
            value,
            label,
            disabled: value === 'path' && drawn === null && finish.kind !== 'path',
          }))}
        />
        {'angle' in finish &&
          number('Off upfield, degrees', finish.angle, (angle) =>
            set({ finish: { ...finish, angle } }),
          )}
        {'run' in finish &&
          number('for, yd', finish.run, (run) => set({ finish: { ...finish, run } }))}
        {number('Decides by, yd', branch.decideBy, (decideBy) => set({ decideBy }))}
        {number('Breaks from, yd', branch.breakAt.from, (from) =>
          set({ breakAt: { ...branch.breakAt, from } }),
        )}
        {number('to, yd', branch.breakAt.to, (to) => set({ breakAt: { ...branch.breakAt, to } }))}
        <NativeSelect
          label="Releases"
          size="xs"
          value={branch.release.side}
          onChange={({ currentTarget }) =>
            set({ release: { ...branch.release, side: currentTarget.value as Release['side'] } })
          }
          data={Object.entries(releaseNames).map(([value, label]) => ({ value, label }))}
        />
        {number('Hesitates, s', branch.release.hesitate, (hesitate) =>
          set({ release: { ...branch.release, hesitate } }),
        )}
        {number('Eyes after the break, s', branch.eyes, (eyes) => set({ eyes }))}
      </div>
      {finish.kind === 'path' && (
        <Group gap="xs">
          <Text size="xs" c="dimmed">
            Drawn through {finish.points.length} points.
          </Text>
          <Button
            size="compact-xs"
            variant="default"
            disabled={!drawn}
            onClick={() => drawn && set({ finish: drawn })}
          >
            Take it from his route again
          </Button>
        </Group>
      )}
    </>
  );
}

/** One way to finish, field by field. */
export function BranchEditor({ card, branch }: { card: ReadCard; branch: Branch }) {
  const board = useBoard();
  const play = usePlay();
  const put = (next: Branch): string | null => wrongOf(board.putBranch(card.player, next));
  const { head } = card;
  const used = card.rows.filter((row) => row.branch === branch.id).length;
  const stands = head.whenInDoubt === branch.id || head.noKey === branch.id;
  return (
    <Stack gap="xs" pt={6}>
      <DraftText
        label="Called"
        size="xs"
        maxLength={30}
        value={branch.name}
        keep={(name) => put({ ...branch, name })}
      />
      {branch.kind === 'route' && (
        <RouteFields card={card} branch={branch} set={(change) => put({ ...branch, ...change })} />
      )}
      {branch.kind === 'target' && (
        <NativeSelect
          label="Throws to"
          size="xs"
          value={branch.player}
          onChange={({ currentTarget }) =>
            put({ ...branch, player: currentTarget.value as PlayerId })
          }
          data={play.players
            .filter(({ id }) => id !== card.player)
            .map(({ id, label }) => ({ value: id as string, label }))}
        />
      )}
      {branch.kind === 'block' && (
        <DraftText
          label="What he does"
          size="xs"
          maxLength={60}
          value={branch.what}
          keep={(what) => put({ ...branch, what })}
        />
      )}
      <Group gap="xs" justify="space-between">
        <Text size="xs" c="dimmed">
          {used > 0 || stands
            ? 'A branch that is in use cannot be removed.'
            : 'No row leads here yet.'}
        </Text>
        <Button
          size="compact-xs"
          variant="subtle"
          color="red"
          disabled={used > 0 || stands}
          onClick={() => board.removeBranch(card.player, branch.id)}
        >
          Remove branch
        </Button>
      </Group>
    </Stack>
  );
}
