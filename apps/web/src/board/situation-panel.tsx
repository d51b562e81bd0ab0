import { NativeSelect, SegmentedControl } from '@mantine/core';
import { ballX } from '@stemline/football/field';
import type { Situation, Spot } from '@stemline/football/play';
import { type RuleCode, ruleCodeSchema } from '@stemline/football/rulecode';
import { ruleCodeWords } from '../book/rule-codes.ts';
import { Choice } from '../common/choice.tsx';
import { DraftNumber } from '../common/draft-number.tsx';
import { useBoard, usePlay } from '../live/hooks.ts';
import classes from './player-panel.module.css';
import { useRights } from './rights.ts';
import { type Edit, writeTogether } from './tools/edit.ts';
import { wrongOf } from './wrong.ts';

/** Where the ball lies and by which rules it is played. The men move with the ball. */
export function SituationPanel() {
  const board = useBoard();
  const play = usePlay();
  const rights = useRights();
  const { situation } = play;
  const set = (change: Partial<Situation>): string | null => {
    const next = { ...situation, ...change };
    const shift = ballX(next) - ballX(situation);
    const edits: Edit[] = [{ do: 'setSituation', situation: next }];
    if (shift !== 0) {
      const moves = play.players.map(({ id, at }) => ({
        player: id,
        at: [Math.round((at[0] + shift) * 100) / 100 + 0, at[1]] as const,
      }));
      edits.push({ do: 'movePlayers', moves });
    }
    return wrongOf(writeTogether(board, edits));
  };
  const disabled = !rights.all;
  return (
    <section className={classes.line} aria-label="Situation">
      <div className={classes.pair}>
        <Choice label="Ball on">
          <SegmentedControl
            size="xs"
            aria-label="Ball on"
            disabled={disabled}
            value={situation.spot}
            onChange={(spot) => set({ spot: spot as Spot })}
            data={[
              { value: 'left', label: 'left hash' },
              { value: 'middle', label: 'middle' },
              { value: 'right', label: 'right hash' },
            ]}
          />
        </Choice>
        <NativeSelect
          label="Rules"
          size="xs"
          disabled={disabled}
          value={situation.code}
          onChange={({ currentTarget }) => set({ code: currentTarget.value as RuleCode })}
          data={ruleCodeSchema.options.map((value) => ({ value, label: ruleCodeWords[value] }))}
        />
      </div>
      <div className={classes.pair}>
        <NativeSelect
          label="Down"
          size="xs"
          disabled={disabled}
          value={String(situation.down)}
          onChange={({ currentTarget }) => set({ down: Number(currentTarget.value) })}
          data={['1', '2', '3', '4']}
        />
        <DraftNumber
          label="Yards to gain"
          size="xs"
          w="7rem"
          disabled={disabled}
          value={situation.toGain}
          keep={(toGain) => set({ toGain: toGain ?? 0 })}
        />
        <DraftNumber
          label="Yards to the goal"
          size="xs"
          w="8rem"
          disabled={disabled}
          value={situation.toGoal}
          keep={(toGoal) => set({ toGoal: toGoal ?? 0 })}
        />
      </div>
    </section>
  );
}
