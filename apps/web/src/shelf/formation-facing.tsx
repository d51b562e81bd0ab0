import { Group, NativeSelect, SegmentedControl } from '@mantine/core';
import { formations } from '@stemline/football/formation';
import { Choice } from '../common/choice.tsx';

export interface Facing {
  formation: string;
  strength: 'left' | 'right';
}

/** The same in words, for paper. */
export const facingWords = ({ formation, strength }: Facing): string =>
  `${formations.find(({ id }) => id === formation)?.name ?? formation}, strength ${strength}`;

/** Which formation the looks stand against on this page; nobody else's view changes with it. */
export function FormationFacing({
  value,
  onChange,
}: {
  value: Facing;
  onChange: (value: Facing) => void;
}) {
  return (
    <Group gap="sm" align="flex-end">
      <NativeSelect
        label="Against"
        value={value.formation}
        data={formations.map((formation) => ({ value: formation.id, label: formation.name }))}
        onChange={(event) => onChange({ ...value, formation: event.currentTarget.value })}
      />
      <Choice label="Strength">
        <SegmentedControl
          value={value.strength}
          onChange={(strength) =>
            onChange({ ...value, strength: strength === 'left' ? 'left' : 'right' })
          }
          data={[
            { value: 'left', label: 'Left' },
            { value: 'right', label: 'Right' },
          ]}
        />
      </Choice>
    </Group>
  );
}
