import { Radio } from '@mantine/core';
import { sceneOf } from '@stemline/drawing/play-scene';
import { formations } from '@stemline/football/formation';
import type { Situation } from '@stemline/football/play';
import type { ReactNode } from 'react';
import { SceneDrawing } from '../common/scene-drawing.tsx';
import classes from './formation-picker.module.css';
import { formationPlay } from './formation-play.ts';

/** Yards that a formation takes up, sideline to sideline, with a little of the field before it. */
const frame = { left: -27.4, bottom: -8, width: 54.8, height: 12.5 };

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
                frame,
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
