import { Button, Modal, Radio, Stack } from '@mantine/core';
import type { Play } from '@stemline/football/play';
import type { LookRecipe } from '@stemline/football/shelf';
import { useState } from 'react';
import { DialogFoot } from '../common/dialog-foot.tsx';
import { LookDrawing } from './look-drawing.tsx';
import classes from './shelf.module.css';

/** A new look is begun from one that is near it: most differ by one or two men. */
export function NewLook(props: {
  opened: boolean;
  starts: readonly LookRecipe[];
  play: Play;
  onStart: (recipe: LookRecipe) => void;
  onClose: () => void;
}) {
  const [chosen, setChosen] = useState('');
  const start = props.starts.find((recipe) => recipe.id === chosen) ?? props.starts[0];
  return (
    <Modal opened={props.opened} onClose={props.onClose} title="New look" size="66rem">
      <Stack gap="md">
        <Radio.Group label="Start from" value={start?.id ?? ''} onChange={setChosen}>
          <div className={classes.starts}>
            {props.starts.map((recipe) => (
              <Radio.Card
                key={recipe.id}
                value={recipe.id}
                className={classes.start ?? ''}
                radius="sm"
              >
                <LookDrawing recipe={recipe} play={props.play} />
                <span className={classes.startName}>
                  <Radio.Indicator size="xs" />
                  {recipe.name}
                </span>
              </Radio.Card>
            ))}
          </div>
        </Radio.Group>
        <DialogFoot>
          <Button variant="default" onClick={props.onClose}>
            Cancel
          </Button>
          <Button
            disabled={start === undefined}
            onClick={() => {
              if (start !== undefined) props.onStart(start);
            }}
          >
            Start from this
          </Button>
        </DialogFoot>
      </Stack>
    </Modal>
  );
}
