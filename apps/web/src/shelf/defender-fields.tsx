import { Button, Group, NativeSelect, Stack, TextInput } from '@mantine/core';
import { levelSchema } from '@stemline/football/look';
import { type DefenderRule, type Stand, standSchema } from '@stemline/football/looks/recipe';
import type { ReactNode } from 'react';
import { anchorKinds, isAnchor } from './fresh-rule.ts';
import { JobFields } from './job-fields.tsx';
import { choices, levelWords } from './rule-words.ts';
import classes from './shelf.module.css';
import { StandFields } from './stand-fields.tsx';
import { WhenField } from './when-field.tsx';

const standKinds: readonly Stand['kind'][] = standSchema.options.map((one) => one.shape.kind.value);
const mostRules = 8;

const replaced = <Item,>(items: readonly Item[], at: number, item: Item): Item[] =>
  items.map((old, index) => (index === at ? item : old));
const without = <Item,>(items: readonly Item[], at: number): Item[] =>
  items.filter((_, index) => index !== at);

/** One of the eleven: who he is, where he stands, what he does. The first line that applies counts. */
export function DefenderFields({
  value,
  onChange,
}: {
  value: DefenderRule;
  onChange: (value: DefenderRule) => void;
}) {
  const { stand, does } = value;
  const setStands = (rules: DefenderRule['stand']['rules']) =>
    onChange({ ...value, stand: { ...stand, rules } });
  const setJobs = (rules: DefenderRule['does']['rules']) =>
    onChange({ ...value, does: { ...does, rules } });
  return (
    <Stack gap="md">
      <Group gap="xs" align="flex-end">
        <TextInput
          label="Letter"
          w={72}
          maxLength={4}
          value={value.label}
          error={value.label === '' ? 'needed' : undefined}
          onChange={(event) => onChange({ ...value, label: event.currentTarget.value })}
        />
        <NativeSelect
          label="Level"
          value={value.level}
          data={choices(levelWords)}
          onChange={(event) =>
            onChange({ ...value, level: levelSchema.parse(event.currentTarget.value) })
          }
        />
      </Group>
      <Rules
        title="Where he stands"
        add="Add a place"
        full={stand.rules.length >= mostRules}
        onAdd={() =>
          setStands([
            ...stand.rules,
            { when: {}, at: { kind: 'over', side: 'strong', receiver: 2, inside: 1, depth: 5 } },
          ])
        }
      >
        {stand.rules.map((rule, index) => (
          <Rule
            // biome-ignore lint/suspicious/noArrayIndexKey: a rule is its place in the order
            key={index}
            what={`place ${index + 1}`}
            onRemove={() => setStands(without(stand.rules, index))}
            when={
              <WhenField
                value={rule.when}
                onChange={(when) => setStands(replaced(stand.rules, index, { ...rule, when }))}
              />
            }
          >
            <StandFields
              value={rule.at}
              kinds={standKinds}
              onChange={(at) => setStands(replaced(stand.rules, index, { ...rule, at }))}
            />
          </Rule>
        ))}
        <Rule otherwise={stand.rules.length > 0}>
          <StandFields
            value={stand.otherwise}
            kinds={anchorKinds}
            onChange={(place) => {
              if (isAnchor(place)) onChange({ ...value, stand: { ...stand, otherwise: place } });
            }}
          />
        </Rule>
      </Rules>
      <Rules
        title="What he does"
        add="Add a job"
        full={does.rules.length >= mostRules}
        onAdd={() =>
          setJobs([...does.rules, { when: { strong: { from: 3, to: 11 } }, job: { kind: 'rush' } }])
        }
      >
        {does.rules.map((rule, index) => (
          <Rule
            // biome-ignore lint/suspicious/noArrayIndexKey: a rule is its place in the order
            key={index}
            what={`job ${index + 1}`}
            onRemove={() => setJobs(without(does.rules, index))}
            when={
              <WhenField
                value={rule.when}
                onChange={(when) => setJobs(replaced(does.rules, index, { ...rule, when }))}
              />
            }
          >
            <JobFields
              value={rule.job}
              onChange={(job) => setJobs(replaced(does.rules, index, { ...rule, job }))}
            />
          </Rule>
        ))}
        <Rule otherwise={does.rules.length > 0}>
          <JobFields
            value={does.otherwise}
            onChange={(otherwise) => onChange({ ...value, does: { ...does, otherwise } })}
          />
        </Rule>
      </Rules>
    </Stack>
  );
}

function Rules(props: {
  title: string;
  add: string;
  full: boolean;
  onAdd: () => void;
  children: ReactNode;
}) {
  return (
    <fieldset className={classes.rules}>
      <legend className={classes.rulesTitle}>{props.title}</legend>
      {props.children}
      {!props.full && (
        <Button size="compact-sm" variant="subtle" onClick={props.onAdd}>
          {props.add}
        </Button>
      )}
    </fieldset>
  );
}

/** One line: under which condition it counts, then what it says. */
function Rule(
  props: { children: ReactNode } & (
    | { when: ReactNode; what: string; onRemove: () => void }
    | { otherwise: boolean }
  ),
) {
  return (
    <div className={classes.rule}>
      {'otherwise' in props ? (
        props.otherwise && <p className={classes.otherwise}>Where none of these applies</p>
      ) : (
        <div className={classes.when}>
          {props.when}
          <Button
            size="compact-sm"
            variant="subtle"
            color="gray"
            onClick={props.onRemove}
            aria-label={`Remove ${props.what}`}
          >
            Remove
          </Button>
        </div>
      )}
      {props.children}
    </div>
  );
}
