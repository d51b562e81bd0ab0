import { Button, Group, NativeSelect, Stack, TextInput } from '@mantine/core';
import { levelSchema } from '@stemline/football/look';
import { explanationsOf } from '@stemline/football/looks/explain';
import type { DefenderRule } from '@stemline/football/looks/recipe';
import type { Play } from '@stemline/football/play';
import { type DrawnMan, followsWords, touched } from './drawn.ts';
import { JobFields } from './job-fields.tsx';
import { choices, levelWords, standWords } from './rule-words.ts';
import classes from './shelf.module.css';

/** One man of a drawing: what places him before other formations, and what he does. */
export function DrawnManFields(props: {
  man: DrawnMan;
  /** What the drawing makes of him for now. */
  rule: DefenderRule | undefined;
  play: Play;
  onChange: (man: DrawnMan) => void;
  onRemove: () => void;
}) {
  const { man, rule, play, onChange } = props;
  const all = explanationsOf(play, man);
  const stands = man.stand ?? rule?.stand.rules[0]?.at ?? rule?.stand.otherwise;
  const at = all.findIndex((one) => JSON.stringify(one.at) === JSON.stringify(stands));
  const own = man.kept
    ? 'His own rules, as they were'
    : stands
      ? `${standWords[stands.kind]}: proposed`
      : 'Proposed';
  return (
    <Stack gap="xs">
      <Group gap="xs" align="flex-end">
        <TextInput
          label="Letter"
          w={72}
          maxLength={4}
          value={man.label}
          error={man.label === '' ? 'needed' : undefined}
          onChange={(event) => onChange({ ...touched(man, { label: event.currentTarget.value }) })}
        />
        <NativeSelect
          label="Level"
          value={man.level}
          data={choices(levelWords)}
          onChange={(event) =>
            onChange(touched(man, { level: levelSchema.parse(event.currentTarget.value) }))
          }
        />
        <Button variant="subtle" color="red" onClick={props.onRemove}>
          Take {man.label} out
        </Button>
      </Group>
      <NativeSelect
        label="Before other formations he stands"
        value={man.kept || at < 0 ? '' : String(at)}
        data={[
          ...(man.kept || at < 0 ? [{ value: '', label: own }] : []),
          ...all.map((one, i) => ({
            value: String(i),
            label: `${one.says} (${followsWords[one.follows]})`,
          })),
        ]}
        onChange={(event) => {
          const chosen = all[Number(event.currentTarget.value)];
          if (event.currentTarget.value !== '' && chosen)
            onChange({ ...touched(man, {}), stand: chosen.at });
        }}
      />
      {rule && (
        <div className={classes.rule}>
          <JobFields
            value={man.does ?? rule.does.otherwise}
            onChange={(does) => onChange(touched(man, { does }))}
          />
        </div>
      )}
    </Stack>
  );
}
