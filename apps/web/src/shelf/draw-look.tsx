import { ActionIcon, Button, Group, NativeSelect, Stack, TextInput } from '@mantine/core';
import { ballX } from '@stemline/football/field';
import { formations } from '@stemline/football/formation';
import type { DefenderId } from '@stemline/football/ids';
import { lookTraitsSchema } from '@stemline/football/look';
import { explanationsOf } from '@stemline/football/looks/explain';
import type { Play } from '@stemline/football/play';
import { alignLook, type LookRecipe, lookRecipeSchema } from '@stemline/football/shelf';
import { IconArrowBackUp, IconArrowForwardUp } from '@tabler/icons-react';
import { type KeyboardEvent, useDeferredValue, useEffect, useMemo, useState } from 'react';
import { formationPlay } from '../book/formation-play.ts';
import { DialogFoot } from '../common/dialog-foot.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import type { AtWork } from '../common/work-dialog.tsx';
import { DrawBoard } from './draw-board.tsx';
import {
  type Drawing,
  drawingOf,
  followsWords,
  oneMore,
  problemsOf,
  recipeOf,
  touched,
  withMan,
} from './drawn.ts';
import { DrawnManFields } from './drawn-man.tsx';
import { LookDialog, type LookDialogProps } from './look-dialog.tsx';
import { LookDrawing } from './look-drawing.tsx';
import { coverageWords, traitWords } from './look-words.ts';
import { choices } from './rule-words.ts';
import classes from './shelf.module.css';

interface Props extends LookDialogProps {
  /** Whoever is not touched keeps his rules. */
  keep: boolean;
  play: Play;
  saving: boolean;
  error: unknown;
  onSave: (recipe: LookRecipe) => void;
}

const nameIt = 'Give the look a name.';

/** A look drawn by hand before one formation; the rules that it shows put it before every other. */
export function DrawLook(props: Props) {
  return (
    <LookDialog title={props.title} from={props.from} onClose={props.onClose} size="86rem">
      {(from, atWork) => <Draw key={from.id} {...props} from={from} atWork={atWork} />}
    </LookDialog>
  );
}

interface Steps {
  readonly past: readonly Drawing[];
  readonly now: Drawing;
  readonly undone: readonly Drawing[];
}

function Draw({
  from,
  keep,
  play,
  saving,
  error,
  onSave,
  atWork: { leave, noteChanged },
}: Props & { from: LookRecipe; atWork: AtWork }) {
  const [steps, setSteps] = useState<Steps>(() => ({
    past: [],
    now: drawingOf(from, play, keep),
    undone: [],
  }));
  const [selected, setSelected] = useState<DefenderId | null>(null);
  const [refused, setRefused] = useState(false);
  useEffect(() => noteChanged(steps.past.length > 0));
  const drawing = steps.now;
  const ball = ballX(play.situation);
  const recipe = useMemo(() => recipeOf(drawing, play, from.id), [drawing, play, from.id]);
  const look = useMemo(() => alignLook(recipe, play), [recipe, play]);
  const troubles = useMemo(() => problemsOf(drawing, ball), [drawing, ball]);
  const late = useDeferredValue(recipe);
  const change = (now: Drawing): void =>
    setSteps(({ past, now: before }) => ({ past: [...past, before], now, undone: [] }));
  const undo = (): void =>
    setSteps((all) => {
      const before = all.past.at(-1);
      return before
        ? { past: all.past.slice(0, -1), now: before, undone: [all.now, ...all.undone] }
        : all;
    });
  const redo = (): void =>
    setSteps((all) => {
      const [after, ...undone] = all.undone;
      return after ? { past: [...all.past, all.now], now: after, undone } : all;
    });
  const onKeyDown = (event: KeyboardEvent): void => {
    if (!(event.ctrlKey || event.metaKey) || event.target instanceof HTMLInputElement) return;
    const key = event.key.toLowerCase();
    if (key !== 'z' && key !== 'y') return;
    event.preventDefault();
    if (key === 'y' || event.shiftKey) redo();
    else undo();
  };
  const remove = (id: DefenderId): void =>
    change({ ...drawing, men: drawing.men.filter((man) => man.id !== id) });
  const named = drawing.name.trim() !== '';
  const save = (): void => {
    const read = lookRecipeSchema.safeParse(recipe);
    if (troubles.length === 0 && named && read.success) onSave(read.data);
    else setRefused(true);
  };
  const man = drawing.men.find(({ id }) => id === selected);
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: undo is heard wherever the focus is
    <div className={`${classes.editor} ${classes.drawEditor}`} onKeyDown={onKeyDown}>
      <div className={classes.drawStage}>
        <DrawBoard
          drawing={drawing}
          look={look}
          play={play}
          selected={selected}
          onSelect={setSelected}
          onPlace={(id, at) => {
            const moved = drawing.men.find((one) => one.id === id);
            if (moved) change(withMan(drawing, id, touched(moved, { at })));
          }}
          onRemove={remove}
        />
        <div className={classes.drawTools}>
          <span className={classes.traits}>
            {drawing.men.length} men. {traitWords(recipe.traits)}.
          </span>
          <Group gap={4}>
            <ActionIcon size="lg" aria-label="Undo" disabled={!steps.past.length} onClick={undo}>
              <IconArrowBackUp size={19} aria-hidden />
            </ActionIcon>
            <ActionIcon size="lg" aria-label="Redo" disabled={!steps.undone.length} onClick={redo}>
              <IconArrowForwardUp size={19} aria-hidden />
            </ActionIcon>
            <Button
              size="compact-sm"
              variant="default"
              onClick={() => change(oneMore(drawing, ball))}
            >
              Add a man
            </Button>
          </Group>
        </div>
        <ul className={classes.troubles} aria-label="What keeps it from being a look">
          {troubles.map(({ man: about, says }) => (
            <li key={says}>
              {says}{' '}
              {about !== null && (
                <Button size="compact-xs" variant="default" onClick={() => setSelected(about)}>
                  Select him
                </Button>
              )}
            </li>
          ))}
        </ul>
        <p className={classes.traits}>
          Drag a man, or select him and use the arrow keys: half a yard, with Shift one, with Alt a
          tenth. Delete takes him out.
        </p>
      </div>
      <Stack gap="md" className={classes.fields ?? ''}>
        <Group gap="xs" align="flex-start" grow>
          <TextInput
            label="Name"
            required
            data-autofocus
            maxLength={60}
            value={drawing.name}
            error={refused && !named ? nameIt : undefined}
            onChange={(event) => change({ ...drawing, name: event.currentTarget.value })}
          />
          <NativeSelect
            label="Coverage"
            value={drawing.coverage ?? ''}
            data={[
              { value: '', label: `As drawn: ${coverageWords[recipe.traits.coverage]}` },
              ...choices(coverageWords),
            ]}
            onChange={({ currentTarget: { value } }) => {
              const coverage = lookTraitsSchema.shape.coverage.safeParse(value);
              change({ ...drawing, coverage: coverage.success ? coverage.data : null });
            }}
          />
        </Group>
        {man ? (
          <DrawnManFields
            key={man.id}
            man={man}
            rule={recipe.defenders.find(({ id }) => id === man.id)}
            play={play}
            onChange={(next) => change(withMan(drawing, man.id, next))}
            onRemove={() => remove(man.id)}
          />
        ) : (
          <p className={classes.traits}>Select a man to say what places him and what he does.</p>
        )}
        <ul className={classes.proposals} aria-label="What places each man">
          {drawing.men.map((one) => (
            <li key={one.id}>
              <button
                type="button"
                className={classes.man}
                aria-pressed={one.id === selected}
                onClick={() => setSelected(one.id)}
              >
                {one.label}
                <span className={classes.manId}>{proposalWords(one, recipe, play)}</span>
              </button>
            </li>
          ))}
        </ul>
        <ProblemNotice error={error} />
        {refused && (troubles.length > 0 || !named) && (
          <p role="alert" className={classes.wrong}>
            This cannot be kept yet. {named ? troubles[0]?.says : nameIt}
          </p>
        )}
        <DialogFoot>
          <Button variant="default" onClick={leave}>
            Cancel
          </Button>
          <Button loading={saving} onClick={save}>
            Save look
          </Button>
        </DialogFoot>
      </Stack>
      <section className={classes.others} aria-label="The same look before other formations">
        <h3 className={classes.rulesTitle}>The same look before other formations</h3>
        <ul className={classes.faced}>
          {formations.map(({ id, name }) => (
            <li key={id} className={classes.look}>
              <LookDrawing
                recipe={late}
                play={formationPlay(id, play.situation, 'right')}
                selected={selected}
              />
              <span className={classes.facedName}>{name}</span>
            </li>
          ))}
        </ul>
      </section>
    </div>
  );
}

/** "1 yd inside of H, follows the receiver". */
function proposalWords(man: Drawing['men'][number], recipe: LookRecipe, play: Play): string {
  if (man.kept) return 'his own rules, as they were';
  const rule = recipe.defenders.find(({ id }) => id === man.id);
  const stands = rule?.stand.rules[0]?.at ?? rule?.stand.otherwise;
  const told = explanationsOf(play, man).find(
    (one) => JSON.stringify(one.at) === JSON.stringify(stands),
  );
  return told ? `${told.says}, ${followsWords[told.follows]}` : 'over the man he takes';
}
