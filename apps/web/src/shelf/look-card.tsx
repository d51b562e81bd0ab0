import { ActionIcon, Menu } from '@mantine/core';
import type { Play } from '@stemline/football/play';
import { alignLook, type LookRecipe } from '@stemline/football/shelf';
import type { StaffLook } from '@stemline/protocol/api/looks';
import { IconDots } from '@tabler/icons-react';
import { useState } from 'react';
import { DialogItem } from '../common/dialog-item.tsx';
import { menNamed } from '../looks/men-named.ts';
import { LookDrawing } from './look-drawing.tsx';
import { rushersOf, traitWords } from './look-words.ts';
import classes from './shelf.module.css';

/** What a dragged look carries: its id. */
const dragged = 'application/x-stemline-look';

export type LookAction = 'redraw' | 'edit' | 'duplicate' | 'earlier' | 'later' | 'delete';

export function LookCard(props: {
  look: StaffLook;
  play: Play;
  mayEdit: boolean;
  isFirst: boolean;
  isLast: boolean;
  onChoose: (action: LookAction) => void;
  /** Another look, by its id, was dragged onto this one. */
  onDrop: (look: string) => void;
}) {
  const { recipe } = props.look;
  const [over, setOver] = useState(false);
  return (
    <li
      className={classes.look}
      draggable={props.mayEdit}
      data-over={over || undefined}
      onDragStart={(event) => event.dataTransfer.setData(dragged, props.look.id)}
      onDragOver={(event) => {
        if (!event.dataTransfer.types.includes(dragged)) return;
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        event.preventDefault();
        setOver(false);
        props.onDrop(event.dataTransfer.getData(dragged));
      }}
    >
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
              <DialogItem onChoose={() => props.onChoose('redraw')}>Redraw by hand</DialogItem>
              <DialogItem onChoose={() => props.onChoose('edit')}>Edit its rules</DialogItem>
              <DialogItem onChoose={() => props.onChoose('duplicate')}>
                Start another from this
              </DialogItem>
              <Menu.Item disabled={props.isFirst} onClick={() => props.onChoose('earlier')}>
                Move it one earlier
              </Menu.Item>
              <Menu.Item disabled={props.isLast} onClick={() => props.onChoose('later')}>
                Move it one later
              </Menu.Item>
              <DialogItem color="red" onChoose={() => props.onChoose('delete')}>
                Delete
              </DialogItem>
            </Menu.Dropdown>
          </Menu>
        )}
      </div>
      <Alternatives recipe={recipe} play={props.play} />
    </li>
  );
}

/** What who may do otherwise than as he is called. */
function Alternatives({ recipe, play }: { recipe: LookRecipe; play: Play }) {
  const [shown, setShown] = useState(false);
  const { defenders } = shown ? alignLook(recipe, play) : { defenders: [] };
  const names = menNamed(defenders);
  const men = defenders.filter(({ reactions }) => reactions.length > 1);
  return (
    <details
      className={classes.alternatives}
      onToggle={(event) => setShown(event.currentTarget.open)}
    >
      <summary>What they may do</summary>
      <ul>
        {shown && men.length === 0 && <li>Everybody does as he is called.</li>}
        {men.map(({ id, label, reactions: [called, ...others] }) => (
          <li key={id}>
            <strong>{names.get(id) ?? label}</strong> {called?.says}; or{' '}
            {others.map(({ says }) => says).join(', or ')}
          </li>
        ))}
      </ul>
    </details>
  );
}
