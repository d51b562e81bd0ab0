import { Button, Group, Modal, SegmentedControl, Stack, Text } from '@mantine/core';
import { strength as strengthOf } from '@stemline/football/count';
import { playersOf } from '@stemline/football/formation';
import { useState } from 'react';
import { FormationPicker } from '../book/formation-picker.tsx';
import { Choice } from '../common/choice.tsx';
import { useBoard, usePlay } from '../live/hooks.ts';
import { write } from './tools/edit.ts';
import { wrongOf } from './wrong.ts';

/** Stands the play in another formation; who keeps his label keeps his route and card. */
export function ChangeFormation(props: { opened: boolean; onClose: () => void }) {
  return (
    <Modal {...props} title="Change formation" size="xl">
      <AnotherFormation onClose={props.onClose} />
    </Modal>
  );
}

function AnotherFormation({ onClose }: { onClose: () => void }) {
  const board = useBoard();
  const play = usePlay();
  const [formation, setFormation] = useState('');
  const [strength, setStrength] = useState<'left' | 'right'>(() => strengthOf(play));
  const [wrong, setWrong] = useState<string | null>(null);
  const players = playersOf(formation, { strength, situation: play.situation });
  const labels = new Set(players.map(({ label }) => label));
  const gone = play.players.filter(
    ({ id, label }) =>
      !labels.has(label) && (play.routes[id] || play.cards.some(({ player }) => player === id)),
  );
  const change = (): void => {
    const error = wrongOf(write(board, { do: 'replacePlayers', players }));
    setWrong(error);
    if (error === null) onClose();
  };
  return (
    <Stack gap="md">
      <Choice label="Strength">
        <SegmentedControl
          aria-label="Strength"
          value={strength}
          onChange={(side) => setStrength(side as 'left' | 'right')}
          data={[
            { value: 'left', label: 'Left' },
            { value: 'right', label: 'Right' },
          ]}
        />
      </Choice>
      <FormationPicker
        value={formation}
        onChange={setFormation}
        situation={play.situation}
        strength={strength}
        error={wrong}
      />
      <Text size="sm">
        Who keeps his label keeps his route and his read card. Motions are taken off: draw them
        again.
        {players.length > 0 && gone.length > 0 && (
          <>
            {' '}
            <strong>
              {gone.map(({ label }) => label).join(', ')} would go, with{' '}
              {gone.length === 1 ? 'his' : 'their'} route and card.
            </strong>
          </>
        )}
      </Text>
      <Group justify="flex-end">
        <Button variant="default" onClick={onClose}>
          Cancel
        </Button>
        <Button disabled={players.length === 0} onClick={change}>
          Change formation
        </Button>
      </Group>
    </Stack>
  );
}
