import { Radio } from '@mantine/core';
import { sceneOf } from '@stemline/drawing/play-scene';
import { ballX } from '@stemline/football/field';
import { formations } from '@stemline/football/formation';
import type { Situation } from '@stemline/football/play';
import type { ReactNode } from 'react';
import { SceneDrawing } from '../common/scene-drawing.tsx';
import classes from './formation-picker.module.css';
import { formationPlay } from './formation-play.ts';

/** Yards that a formation takes up round its ball, and a little of the field before it. */
const frameOf = (situation: Situation) => ({
  left: ballX(situation) - 22,
  bottom: -8.3,
  width: 44,
  height: 11,
});

export function FormationPicker(props: {
  value: string;
  onChange: (formation: string) => void;
  situation: Situation;
  strength: 'left' | 'right';
  error?: ReactNode;
}) {
  return (
    <Radio.Group
      label="Formation"
      required
      value={props.value}
      onChange={props.onChange}
      error={props.error}
    >
      <div className={classes.formations}>
        {formations.map((formation) => (
          <Radio.Card
            key={formation.id}
            value={formation.id}
            className={classes.formation ?? ''}
            radius="sm"
          >
            <SceneDrawing
              scene={sceneOf(formationPlay(formation.id, props.situation, props.strength), {
                frame: frameOf(props.situation),
              })}
            />
            <span className={classes.name}>
              <Radio.Indicator size="xs" />
              {formation.name}
            </span>
          </Radio.Card>
        ))}
      </div>
    </Radio.Group>
  );
}
