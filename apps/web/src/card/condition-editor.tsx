import { Button, Checkbox, NativeSelect, Radio, Stack, Text, TextInput } from '@mantine/core';
import type { Condition, ReadCard } from '@stemline/read-rules/card';
import type { FactName } from '@stemline/read-rules/fact-name';
import { facts } from '@stemline/read-rules/facts';
import { type KeyboardEvent, useState } from 'react';
import { type Ask, type AskedBound, askOf, conditionFrom } from './ask.ts';
import { yesNoWords } from './card-words.ts';
import classes from './decision-table.module.css';

function BoundField({
  label,
  unit,
  words,
  bound,
  onChange,
}: {
  label: string;
  unit: string;
  words: Record<'closed' | 'open', string>;
  bound: AskedBound;
  onChange: (bound: AskedBound) => void;
}) {
  return (
    <div className={classes.bound}>
      <NativeSelect
        aria-label={label}
        size="xs"
        value={bound.kind}
        onChange={({ currentTarget }) =>
          onChange({ ...bound, kind: currentTarget.value as AskedBound['kind'] })
        }
        data={[
          { value: 'any', label: 'no limit' },
          { value: 'closed', label: words.closed },
          { value: 'open', label: words.open },
        ]}
      />
      {bound.kind !== 'any' && (
        <TextInput
          aria-label={`${label}, ${unit || 'number'}`}
          size="xs"
          inputMode="decimal"
          autoComplete="off"
          value={bound.text}
          onChange={({ currentTarget }) => onChange({ ...bound, text: currentTarget.value })}
          rightSection={<span className={classes.unit}>{unit}</span>}
        />
      )}
    </div>
  );
}

function AskFields({
  card,
  fact,
  ask,
  onChange,
}: {
  card: ReadCard;
  fact: FactName;
  ask: Ask;
  onChange: (ask: Ask) => void;
}) {
  const { label, unit, domain, valueLabels } = facts[fact];
  if (ask.kind === 'range') {
    return (
      <>
        <BoundField
          label={`${label}, from`}
          unit={unit}
          words={{ closed: 'at least', open: 'more than' }}
          bound={ask.from}
          onChange={(from) => onChange({ ...ask, from })}
        />
        <BoundField
          label={`${label}, to`}
          unit={unit}
          words={{ closed: 'at most', open: 'less than' }}
          bound={ask.to}
          onChange={(to) => onChange({ ...ask, to })}
        />
      </>
    );
  }
  if (ask.kind === 'is') {
    return (
      <Radio.Group
        aria-label={label}
        value={String(ask.value)}
        onChange={(value) =>
          onChange({ kind: 'is', value: value === 'null' ? null : value === 'true' })
        }
      >
        <Stack gap={6}>
          {[true, false].map((value) => (
            <Radio
              key={String(value)}
              size="xs"
              value={String(value)}
              label={yesNoWords(card, fact, value)}
            />
          ))}
          <Radio size="xs" value="null" label="either" />
        </Stack>
      </Radio.Group>
    );
  }
  const values = domain.kind === 'enumerated' ? domain.values : [];
  return (
    <Checkbox.Group
      aria-label={label}
      value={[...ask.values]}
      onChange={(chosen) => onChange({ kind: 'oneOf', values: chosen })}
    >
      <Stack gap={6}>
        {values.map((value) => (
          <Checkbox key={value} size="xs" value={value} label={valueLabels[value] ?? value} />
        ))}
      </Stack>
    </Checkbox.Group>
  );
}

/** One cell under the hand: nothing is written, and nothing overwrites it, until it is kept. */
export function ConditionEditor({
  card,
  fact,
  condition,
  onKeep,
  onCancel,
}: {
  card: ReadCard;
  fact: FactName;
  condition: Condition | undefined;
  /** Null: the row asks nothing of this fact. */
  onKeep: (condition: Condition | null) => void;
  onCancel: () => void;
}) {
  const [ask, setAsk] = useState(() => askOf(fact, condition));
  const [tried, setTried] = useState(false);
  const answered = conditionFrom(fact, ask);
  const keep = (): void => {
    setTried(true);
    if (answered.ok) onKeep(answered.condition);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key !== 'Enter' || !(event.target instanceof HTMLInputElement)) return;
    event.preventDefault();
    keep();
  };
  return (
    <Stack gap="xs" onKeyDown={onKeyDown}>
      <div>
        <Text size="sm" fw={650}>
          {facts[fact].label}
        </Text>
        <Text size="xs" c="dimmed" maw="18rem">
          {facts[fact].help}
        </Text>
      </div>
      <AskFields card={card} fact={fact} ask={ask} onChange={setAsk} />
      {tried && !answered.ok && (
        <Text size="xs" c="var(--finding-stop)" role="alert">
          {answered.wrong}
        </Text>
      )}
      <div className={classes.editorActions}>
        {condition && (
          <Button size="compact-xs" variant="subtle" onClick={() => onKeep(null)}>
            Ask nothing
          </Button>
        )}
        <Button size="compact-xs" variant="default" onClick={onCancel}>
          Cancel
        </Button>
        <Button size="compact-xs" onClick={keep}>
          Keep
        </Button>
      </div>
    </Stack>
  );
}
