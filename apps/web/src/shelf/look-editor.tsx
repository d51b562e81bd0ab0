import { Button, Group, NativeSelect, Stack, TextInput } from '@mantine/core';
import { lookTraitsSchema } from '@stemline/football/look';
import type { Play } from '@stemline/football/play';
import { type LookRecipe, lookRecipeSchema } from '@stemline/football/shelf';
import { useEffect, useState } from 'react';
import { DialogFoot } from '../common/dialog-foot.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import type { AtWork } from '../common/work-dialog.tsx';
import { DefenderFields } from './defender-fields.tsx';
import { LookDialog, type LookDialogProps } from './look-dialog.tsx';
import { LookDrawing } from './look-drawing.tsx';
import { coverageWords, frontWords, middleWords, shellWords } from './look-words.ts';
import { choices } from './rule-words.ts';
import classes from './shelf.module.css';

interface Props extends LookDialogProps {
  play: Play;
  saving: boolean;
  error: unknown;
  onSave: (recipe: LookRecipe) => void;
}

/** A look taken apart into its eleven, and how it stands while it is being changed. */
export function LookEditor(props: Props) {
  return (
    <LookDialog title={props.title} from={props.from} onClose={props.onClose} size="74rem">
      {(from, atWork) => <Editor key={from.id} {...props} from={from} atWork={atWork} />}
    </LookDialog>
  );
}

function Editor({
  from,
  play,
  saving,
  error,
  onSave,
  atWork: { leave, noteChanged },
}: Props & { from: LookRecipe; atWork: AtWork }) {
  const [recipe, setRecipe] = useState(from);
  const [at, setAt] = useState(0);
  const [wrong, setWrong] = useState<string | null>(null);
  useEffect(() => noteChanged(JSON.stringify(recipe) !== JSON.stringify(from)));
  const chosen = recipe.defenders[at];
  const setTraits = (part: Partial<LookRecipe['traits']>) =>
    setRecipe({ ...recipe, traits: { ...recipe.traits, ...part } });
  const save = () => {
    const read = lookRecipeSchema.safeParse(recipe);
    if (read.success) onSave(read.data);
    else setWrong(wrongWith(recipe, read.error.issues[0]));
  };
  const traits = lookTraitsSchema.shape;
  return (
    <div className={classes.editor}>
      <div className={classes.stage}>
        <LookDrawing recipe={recipe} play={play} selected={chosen?.id ?? null} />
        <fieldset className={classes.eleven} aria-label="The eleven">
          {recipe.defenders.map((defender, index) => (
            <button
              key={defender.id}
              type="button"
              className={classes.man}
              aria-pressed={index === at}
              onClick={() => setAt(index)}
            >
              {defender.label}
              <span className={classes.manId}>{defender.id.replaceAll('-', ' ')}</span>
            </button>
          ))}
        </fieldset>
      </div>
      <Stack gap="md" className={classes.fields ?? ''}>
        <TextInput
          label="Name"
          required
          data-autofocus
          maxLength={60}
          value={recipe.name}
          error={recipe.name.trim() === '' ? 'Give the look a name.' : undefined}
          onChange={(event) => setRecipe({ ...recipe, name: event.currentTarget.value })}
        />
        <Group gap="xs" align="flex-end">
          <NativeSelect
            label="Front"
            value={recipe.traits.front}
            data={choices(frontWords)}
            onChange={(event) =>
              setTraits({ front: traits.front.parse(event.currentTarget.value) })
            }
          />
          <NativeSelect
            label="Shell"
            value={recipe.traits.shell}
            data={choices(shellWords)}
            onChange={(event) =>
              setTraits({ shell: traits.shell.parse(event.currentTarget.value) })
            }
          />
          <NativeSelect
            label="Middle"
            value={recipe.traits.middle}
            data={choices(middleWords)}
            onChange={(event) =>
              setTraits({ middle: traits.middle.parse(event.currentTarget.value) })
            }
          />
          <NativeSelect
            label="Coverage"
            value={recipe.traits.coverage}
            data={choices(coverageWords)}
            onChange={(event) =>
              setTraits({ coverage: traits.coverage.parse(event.currentTarget.value) })
            }
          />
        </Group>
        {chosen !== undefined && (
          <DefenderFields
            key={chosen.id}
            value={chosen}
            onChange={(defender) =>
              setRecipe({
                ...recipe,
                defenders: recipe.defenders.map((old) => (old.id === defender.id ? defender : old)),
              })
            }
          />
        )}
        <ProblemNotice error={error} />
        {wrong !== null && (
          <p role="alert" className={classes.wrong}>
            {wrong}
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
    </div>
  );
}

/** Names the defender that an issue is about, so that he can be found among the eleven. */
function wrongWith(
  recipe: LookRecipe,
  issue: { path: PropertyKey[]; message: string } | undefined,
): string {
  if (issue === undefined) return 'This look cannot be saved as it is.';
  const [part, index] = issue.path;
  const defender =
    part === 'defenders' && typeof index === 'number' ? recipe.defenders[index] : undefined;
  const says = issue.message.endsWith('.') ? issue.message : `${issue.message}.`;
  return `${defender === undefined ? 'The look' : `Defender ${defender.label}`}: ${says}`;
}
