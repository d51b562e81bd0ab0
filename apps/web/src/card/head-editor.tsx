import { Checkbox, Group, NativeSelect, SegmentedControl, Stack } from '@mantine/core';
import type { PlayerId } from '@stemline/football/ids';
import { type Level, levelSchema } from '@stemline/football/look';
import type { CardHead, HitPolicy, KeySelector, ReadCard } from '@stemline/read-rules/card';
import { wrongOf } from '../board/wrong.ts';
import { Choice } from '../common/choice.tsx';
import { DraftNumber } from '../common/draft-number.tsx';
import { DraftText } from '../common/draft-text.tsx';
import { useBoard, usePlay } from '../live/hooks.ts';
import classes from './card-panel.module.css';
import { levelNames, policyNames } from './card-words.ts';

function KeyFields({
  card,
  set,
}: {
  card: ReadCard;
  set: (key: Partial<KeySelector>) => string | null;
}) {
  const play = usePlay();
  const { key } = card.head;
  const yards = (label: string, value: number, keep: (yd: number) => string | null) => (
    <DraftNumber label={label} size="xs" value={value} keep={(yd) => keep(yd ?? 0)} />
  );
  return (
    <>
      <Checkbox.Group
        label="Who counts"
        size="xs"
        value={[...key.levels]}
        onChange={(levels) => set({ levels: levels as Level[] })}
      >
        <Group gap="sm" mt={4}>
          {levelSchema.options.map((level) => (
            <Checkbox
              key={level}
              size="xs"
              value={level}
              label={levelNames[level]}
              disabled={key.levels.length === 1 && key.levels.includes(level)}
            />
          ))}
        </Group>
      </Checkbox.Group>
      <div className={classes.fields}>
        <NativeSelect
          label="Scan starts over"
          size="xs"
          value={key.over ?? ''}
          onChange={({ currentTarget: { value } }) =>
            set({ over: value === '' ? null : (value as PlayerId) })
          }
          data={[
            { value: '', label: 'himself' },
            ...play.players
              .filter(({ id }) => id !== card.player)
              .map(({ id, label }) => ({ value: id as string, label })),
          ]}
        />
        <NativeSelect
          label="and goes"
          size="xs"
          value={key.direction}
          onChange={({ currentTarget }) =>
            set({ direction: currentTarget.value as KeySelector['direction'] })
          }
          data={[
            { value: 'inside', label: 'inside' },
            { value: 'outside', label: 'outside' },
          ]}
        />
        {yards('for, yd', key.reach, (reach) => set({ reach }))}
        {yards('No deeper than, yd', key.maxDepth, (maxDepth) => set({ maxDepth }))}
        {yards('Head-up within, yd', key.headUp, (headUp) => set({ headUp }))}
        {yards('A tie within, yd', key.tie, (tie) => set({ tie }))}
      </div>
    </>
  );
}

/** How the player finds his key, who makes a bracket with him, and what holds when no row answers. */
export function HeadEditor({ card }: { card: ReadCard }) {
  const board = useBoard();
  const { head, branches } = card;
  const set = (change: Partial<CardHead>): string | null =>
    wrongOf(board.setCard(card.player, { ...head, ...change }));
  const answers = [
    { value: '', label: 'no answer' },
    ...branches.map(({ id, name }) => ({ value: id as string, label: name })),
  ];
  const answer = (value: string) => branches.find(({ id }) => id === value)?.id ?? null;
  return (
    <Stack gap="sm">
      <DraftText
        label="Title of the card"
        size="xs"
        maxLength={60}
        value={head.title}
        keep={(title) => set({ title })}
      />
      <KeyFields card={card} set={(key) => set({ key: { ...head.key, ...key } })} />
      <div className={classes.fields}>
        <DraftNumber
          label="Man on the other side within, yd"
          size="xs"
          value={head.sideMan.width}
          keep={(width) => set({ sideMan: { ...head.sideMan, width: width ?? 0 } })}
        />
        <DraftNumber
          label="and no deeper than, yd"
          size="xs"
          value={head.sideMan.depth}
          keep={(depth) => set({ sideMan: { ...head.sideMan, depth: depth ?? 0 } })}
        />
      </div>
      <Choice label="What answers">
        <SegmentedControl
          size="xs"
          aria-label="What answers"
          value={head.policy}
          onChange={(policy) => set({ policy: policy as HitPolicy })}
          data={Object.entries(policyNames).map(([value, label]) => ({ value, label }))}
        />
      </Choice>
      <div className={classes.fields}>
        <NativeSelect
          label="When in doubt"
          size="xs"
          value={head.whenInDoubt ?? ''}
          onChange={({ currentTarget }) => set({ whenInDoubt: answer(currentTarget.value) })}
          data={answers}
        />
        <NativeSelect
          label="No key"
          size="xs"
          value={head.noKey ?? ''}
          onChange={({ currentTarget }) => set({ noKey: answer(currentTarget.value) })}
          data={answers}
        />
      </div>
    </Stack>
  );
}
