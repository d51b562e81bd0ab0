import { ActionIcon, Menu } from '@mantine/core';
import type { Play } from '@stemline/football/play';
import type { StaffLook } from '@stemline/protocol/api/looks';
import { IconDots } from '@tabler/icons-react';
import { LookDrawing } from './look-drawing.tsx';
import { rushersOf, traitWords } from './look-words.ts';
import classes from './shelf.module.css';

export type LookAction = 'edit' | 'duplicate' | 'delete';

export function LookCard(props: {
  look: StaffLook;
  play: Play;
  mayEdit: boolean;
  onChoose: (action: LookAction) => void;
}) {
  const { recipe } = props.look;
  return (
    <li className={classes.look}>
      <LookDrawing recipe={recipe} play={props.play} />
      <div className={classes.foot}>
        <div className={classes.names}>
          <h2 className={classes.name}>{recipe.name}</h2>
          <p className={classes.traits}>
            {traitWords(recipe.traits)}, {rushersOf(recipe)} rush
          </p>
        </div>
        {props.mayEdit && (
          <Menu>
            <Menu.Target>
              <ActionIcon size={32} aria-label={`More for ${recipe.name}`}>
                <IconDots size={18} aria-hidden />
              </ActionIcon>
            </Menu.Target>
            <Menu.Dropdown>
              <Menu.Item onClick={() => props.onChoose('edit')}>Edit look</Menu.Item>
              <Menu.Item onClick={() => props.onChoose('duplicate')}>
                Start another from this
              </Menu.Item>
              <Menu.Item color="red" onClick={() => props.onChoose('delete')}>
                Delete
              </Menu.Item>
            </Menu.Dropdown>
          </Menu>
        )}
      </div>
    </li>
  );
}
