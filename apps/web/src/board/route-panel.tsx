import { Button, Group, NativeSelect, SegmentedControl } from '@mantine/core';
import type { Motion, Player, Release, Route } from '@stemline/football/play';
import { Choice } from '../common/choice.tsx';
import { DraftNumber } from '../common/draft-number.tsx';
import { DraftText } from '../common/draft-text.tsx';
import { useBoard, usePlay } from '../live/hooks.ts';
import { useBoardUi } from './board-ui-context.tsx';
import classes from './player-panel.module.css';
import { endingOf, withEnding } from './tools/path.ts';
import { wrongOf } from './wrong.ts';

export const releaseNames: Record<Release['side'], string> = {
  free: 'either way',
  inside: 'inside',
  outside: 'outside',
};

function RouteFields({
  player,
  route,
  mayEdit,
}: {
  player: Player;
  route: Route;
  mayEdit: boolean;
}) {
  const board = useBoard();
  const set = (change: Partial<Route>): string | null =>
    wrongOf(board.setRoute(player.id, { ...route, ...change }));
  return (
    <>
      <div className={classes.pair}>
        <DraftText
          label="Route name"
          size="xs"
          maxLength={40}
          disabled={!mayEdit}
          value={route.name}
          keep={(name) => set({ name })}
        />
        <Choice label="At the end">
          <SegmentedControl
            size="xs"
            aria-label="At the end"
            disabled={!mayEdit}
            value={endingOf(route)}
            onChange={(ending) =>
              board.setRoute(player.id, withEnding(route, ending as 'on' | 'settle'))
            }
            data={[
              {
                value: 'on',
                label: 'runs on',
                // What turns back, or is called a stop, does not run on however it is ended.
                disabled: endingOf(withEnding(route, 'on')) === 'settle',
              },
              { value: 'settle', label: 'sits down' },
            ]}
          />
        </Choice>
        <Choice label="Break">
          <SegmentedControl
            size="xs"
            aria-label="Break"
            disabled={!mayEdit}
            value={route.shape}
            onChange={(shape) => set({ shape: shape as Route['shape'] })}
            data={[
              { value: 'sharp', label: 'sharp' },
              { value: 'rounded', label: 'rounded' },
            ]}
          />
        </Choice>
      </div>
      <div className={classes.pair}>
        <NativeSelect
          label="Release"
          size="xs"
          disabled={!mayEdit}
          value={route.release.side}
          onChange={({ currentTarget }) =>
            set({ release: { ...route.release, side: currentTarget.value as Release['side'] } })
          }
          data={Object.entries(releaseNames).map(([value, label]) => ({ value, label }))}
        />
        <DraftNumber
          label="Hesitates, seconds"
          size="xs"
          disabled={!mayEdit}
          value={route.release.hesitate}
          keep={(hesitate) => set({ release: { ...route.release, hesitate: hesitate ?? 0 } })}
        />
      </div>
    </>
  );
}

function MotionFields({
  player,
  motion,
  mayEdit,
}: {
  player: Player;
  motion: Motion;
  mayEdit: boolean;
}) {
  const board = useBoard();
  return (
    <Choice label="At the snap">
      <SegmentedControl
        size="xs"
        aria-label="At the snap"
        disabled={!mayEdit}
        value={motion.atSnap}
        onChange={(atSnap) =>
          board.setMotion(player.id, { ...motion, atSnap: atSnap as Motion['atSnap'] })
        }
        data={[
          { value: 'moving', label: 'on the move' },
          { value: 'set', label: 'set for a second' },
        ]}
      />
    </Choice>
  );
}

/** What a player runs: his route and his motion, drawn on the board and told here. */
export function RoutePanel({ player, mayEdit }: { player: Player; mayEdit: boolean }) {
  const board = useBoard();
  const play = usePlay();
  const [, tell] = useBoardUi();
  const route = play.routes[player.id];
  const motion = play.motions[player.id];
  return (
    <>
      {(route || mayEdit) && (
        <section className={classes.line} aria-label={`${player.label}'s route`}>
          {route && <RouteFields player={player} route={route} mayEdit={mayEdit} />}
          {mayEdit && (
            <Group gap="xs">
              <Button
                size="xs"
                variant="default"
                onClick={() => tell({ do: 'tool', tool: 'route' })}
              >
                {route ? 'Redraw the route' : 'Draw a route'}
              </Button>
              {route && (
                <Button size="xs" variant="default" onClick={() => board.clearRoute(player.id)}>
                  Delete route
                </Button>
              )}
            </Group>
          )}
        </section>
      )}
      {(motion || mayEdit) && (
        <section className={classes.line} aria-label={`${player.label}'s motion`}>
          {motion && <MotionFields player={player} motion={motion} mayEdit={mayEdit} />}
          {mayEdit && (
            <Group gap="xs">
              <Button
                size="xs"
                variant="default"
                onClick={() => tell({ do: 'tool', tool: 'motion' })}
              >
                {motion ? 'Redraw the motion' : 'Draw a motion'}
              </Button>
              {motion && (
                <Button size="xs" variant="default" onClick={() => board.clearMotion(player.id)}>
                  Delete motion
                </Button>
              )}
            </Group>
          )}
        </section>
      )}
    </>
  );
}
