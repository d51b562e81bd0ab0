import { Group, NativeSelect, NumberInput } from '@mantine/core';
import { flankSchema, type Stand, techniqueSchema } from '@stemline/football/looks/recipe';
import { standOfKind } from './fresh-rule.ts';
import { choices, flankWords, standWords } from './rule-words.ts';

/** Where a defender stands: the kind of place, then what that kind needs. Yards. */
export function StandFields<Kind extends Stand['kind']>(props: {
  value: Stand;
  kinds: readonly Kind[];
  onChange: (value: Stand) => void;
}) {
  const { value, onChange } = props;
  return (
    <Group gap="xs" align="flex-end">
      <NativeSelect
        label="Stands"
        value={value.kind}
        data={choices(standWords).filter((choice) =>
          props.kinds.some((kind) => kind === choice.value),
        )}
        onChange={(event) => {
          const kind = props.kinds.find((one) => one === event.currentTarget.value);
          if (kind !== undefined) onChange(standOfKind(kind, value));
        }}
      />
      {'side' in value && (
        <NativeSelect
          label="Side"
          value={value.side}
          data={choices(flankWords)}
          onChange={(event) =>
            onChange({ ...value, side: flankSchema.parse(event.currentTarget.value) })
          }
        />
      )}
      {value.kind === 'technique' && (
        <NativeSelect
          label="Technique"
          value={value.technique}
          data={techniqueSchema.options.map((one) => ({
            value: one,
            label: one === 'wide9' ? 'wide 9' : one,
          }))}
          onChange={(event) =>
            onChange({ ...value, technique: techniqueSchema.parse(event.currentTarget.value) })
          }
        />
      )}
      {'receiver' in value && (
        <NativeSelect
          label="Receiver"
          value={String(value.receiver)}
          data={['1', '2', '3', '4'].map((one) => ({ value: one, label: `#${one}` }))}
          onChange={(event) => onChange({ ...value, receiver: Number(event.currentTarget.value) })}
        />
      )}
      {value.kind === 'apex' && (
        <NativeSelect
          label="Toward"
          value={value.toward}
          data={[
            { value: 'inside', label: 'the man inside' },
            { value: 'outside', label: 'the man outside' },
          ]}
          onChange={(event) =>
            onChange({
              ...value,
              toward: event.currentTarget.value === 'inside' ? 'inside' : 'outside',
            })
          }
        />
      )}
      {value.kind === 'edge' && (
        <Yards
          label="Out, yd"
          value={value.yards}
          min={-3}
          max={12}
          onChange={(yards) => onChange({ ...value, yards })}
        />
      )}
      {value.kind === 'fromBall' && (
        <Yards
          label="Out, yd"
          value={value.yards}
          min={0}
          max={60}
          onChange={(yards) => onChange({ ...value, yards })}
        />
      )}
      {'inside' in value && (
        <Yards
          label="In, yd"
          value={value.inside}
          min={-4}
          max={value.kind === 'onMan' ? 4 : 6}
          onChange={(inside) => onChange({ ...value, inside })}
        />
      )}
      <Yards
        label="Depth, yd"
        value={value.depth}
        min={0.6}
        max={40}
        onChange={(depth) => onChange({ ...value, depth })}
      />
    </Group>
  );
}

function Yards(props: {
  label: string;
  value: number;
  min: number;
  max: number;
  onChange: (value: number) => void;
}) {
  return (
    <NumberInput
      label={props.label}
      w={76}
      hideControls
      step={0.5}
      decimalScale={1}
      clampBehavior="strict"
      min={props.min}
      max={props.max}
      value={props.value}
      onChange={(value) => {
        if (typeof value === 'number') props.onChange(value);
      }}
    />
  );
}
