import { Group, MultiSelect, NativeSelect } from '@mantine/core';
import {
  flankSchema,
  type Job,
  jobSchema,
  targetSchema,
  zoneSchema,
} from '@stemline/football/looks/recipe';
import { jobOfKind } from './fresh-rule.ts';
import { choices, flankWords, jobWords, targetWords, zoneWords } from './rule-words.ts';

/** What a defender does after the snap; a man defender also has something for when nobody is left for him. */
export function JobFields({ value, onChange }: { value: Job; onChange: (value: Job) => void }) {
  return (
    <Group gap="xs" align="flex-end">
      <NativeSelect
        label="After the snap"
        value={value.kind}
        data={choices(jobWords)}
        onChange={(event) => {
          const kind = jobSchema.options.find(
            (one) => one.shape.kind.value === event.currentTarget.value,
          );
          if (kind !== undefined) onChange(jobOfKind(kind.shape.kind.value, value));
        }}
      />
      {value.kind === 'zone' && (
        <NativeSelect
          label="Zone"
          value={value.zone}
          data={choices(zoneWords)}
          onChange={(event) =>
            onChange({ ...value, zone: zoneSchema.parse(event.currentTarget.value) })
          }
        />
      )}
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
      {value.kind === 'wall' && (
        <NativeSelect
          label="Receiver"
          value={String(value.receiver)}
          data={['1', '2', '3', '4'].map((one) => ({ value: one, label: `#${one}` }))}
          onChange={(event) => onChange({ ...value, receiver: Number(event.currentTarget.value) })}
        />
      )}
      {value.kind === 'man' && (
        <>
          <MultiSelect
            label="Takes, first choice first"
            miw={220}
            value={[...value.takes]}
            data={choices(targetWords)}
            error={value.takes.length === 0 ? 'name one man at least' : undefined}
            onChange={(takes) =>
              onChange({ ...value, takes: takes.map((one) => targetSchema.parse(one)) })
            }
          />
          <NativeSelect
            label="With nobody left"
            value={value.free.kind === 'rush' ? 'rush' : value.free.zone}
            data={[{ value: 'rush', label: 'rushes' }, ...choices(zoneWords)]}
            onChange={(event) => {
              const chosen = event.currentTarget.value;
              const side = value.free.kind === 'zone' ? value.free.side : 'strong';
              onChange({
                ...value,
                free:
                  chosen === 'rush'
                    ? { kind: 'rush' }
                    : { kind: 'zone', zone: zoneSchema.parse(chosen), side },
              });
            }}
          />
        </>
      )}
    </Group>
  );
}
