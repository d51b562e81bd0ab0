import { Button, Group, NativeSelect, Stack, Text } from '@mantine/core';
import { nextMan } from '@stemline/football/next-man';
import {
  type Player,
  type PlayerInfo,
  type Position,
  positionSchema,
} from '@stemline/football/play';
import { useState } from 'react';
import { startCard } from '../card/start-card.ts';
import { Choice } from '../common/choice.tsx';
import { DraftNumber } from '../common/draft-number.tsx';
import { DraftText } from '../common/draft-text.tsx';
import { useBoard, usePlay } from '../live/hooks.ts';
import { useBoardUi } from './board-ui-context.tsx';
import { describePlayer, positionNames } from './describe-player.ts';
import classes from './player-panel.module.css';
import { useRights } from './rights.ts';
import { RoutePanel } from './route-panel.tsx';
import { SituationPanel } from './situation-panel.tsx';
import { wrongOf } from './wrong.ts';

function PlayerFields({ player, mayEdit }: { player: Player; mayEdit: boolean }) {
  const board = useBoard();
  const { id, at: _, ...info } = player;
  const set = (change: Partial<PlayerInfo>): string | null =>
    wrongOf(board.setPlayerInfo(id, { ...info, ...change }));
  return (
    <div className={classes.fields}>
      <DraftText
        label="Label"
        size="xs"
        maxLength={4}
        disabled={!mayEdit}
        value={player.label}
        keep={(label) => set({ label })}
      />
      <DraftNumber
        label="Number"
        size="xs"
        disabled={!mayEdit}
        value={player.number}
        keep={(number) => set({ number: number ?? 0 })}
      />
      <NativeSelect
        label="Position"
        size="xs"
        disabled={!mayEdit}
        value={player.position}
        onChange={({ currentTarget }) => set({ position: currentTarget.value as Position })}
        data={positionSchema.options.map((value) => ({ value, label: positionNames[value] }))}
      />
    </div>
  );
}

/** Puts the next man on a play that is short of eleven, and selects him. `takesFocus`: from the button that is gone. */
function AddPlayer({ takesFocus, onFocus }: { takesFocus: boolean; onFocus: () => void }) {
  const board = useBoard();
  const play = usePlay();
  const [, tell] = useBoardUi();
  const man = nextMan(play);
  if (!man) return null;
  const add = (): void => {
    if (board.addPlayer(man).ok) tell({ do: 'select', players: [man.id] });
  };
  return (
    <Stack gap={6} align="flex-start">
      <Text size="sm">{play.players.length} of 11 players are drawn.</Text>
      <Button size="xs" variant="default" autoFocus={takesFocus} onFocus={onFocus} onClick={add}>
        Add {man.label}
      </Button>
    </Stack>
  );
}

/** The selected player: who he is, what he runs; with nobody selected, the situation of the play. */
export function PlayerPanel({ onOpenCard }: { onOpenCard: () => void }) {
  const board = useBoard();
  const play = usePlay();
  const rights = useRights();
  const [ui, tell] = useBoardUi();
  const [hasRemoved, setRemoved] = useState(false);
  const players = play.players.filter(({ id }) => ui.selected.includes(id));
  const [player, ...others] = players;
  if (!player) {
    return (
      <Stack gap="lg">
        <Text size="sm" c="dimmed">
          {rights.any
            ? 'Select a player on the board to change him, his route or his motion.'
            : 'Select a player on the board to read about him.'}
        </Text>
        {rights.all && <AddPlayer takesFocus={hasRemoved} onFocus={() => setRemoved(false)} />}
        <SituationPanel />
      </Stack>
    );
  }
  if (others.length > 0) {
    return (
      <Stack gap="sm">
        <Text size="sm">
          {players.length} players selected: {players.map(({ label }) => label).join(', ')}.
          {rights.any && ' Drag one, or use the arrow keys, to move them together.'}
        </Text>
      </Stack>
    );
  }
  const mayEdit = rights.player(player.id);
  const hasCard = play.cards.some((card) => card.player === player.id);
  return (
    <Stack gap="md">
      <p className={classes.words}>{describePlayer(play, player)}</p>
      {!mayEdit && rights.any && (
        <Text size="sm" c="dimmed">
          He is not in your group: you can read about him but not change him.
        </Text>
      )}
      <PlayerFields player={player} mayEdit={mayEdit} />
      <RoutePanel player={player} mayEdit={mayEdit} />
      <Choice label="Read card">
        {hasCard || mayEdit ? (
          <Button
            size="xs"
            variant="default"
            onClick={() => {
              if (!hasCard) startCard(board, play, player);
              tell({ do: 'openCard', player: player.id });
              onOpenCard();
            }}
          >
            {hasCard ? `Open ${player.label}'s read card` : `Start a read card for ${player.label}`}
          </Button>
        ) : (
          <Text size="sm" c="dimmed">
            He has none.
          </Text>
        )}
      </Choice>
      {mayEdit && (
        <Group justify="flex-end">
          <Button
            size="compact-sm"
            variant="subtle"
            color="red"
            onClick={() => {
              board.removePlayer(player.id);
              setRemoved(true);
            }}
          >
            Remove {player.label} from the play
          </Button>
        </Group>
      )}
    </Stack>
  );
}
