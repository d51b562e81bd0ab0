import { Button } from '@mantine/core';
import { builtInLooks, type LookRecipe } from '@stemline/football/shelf';
import type { StaffLook } from '@stemline/protocol/api/looks';
import { may } from '@stemline/protocol/permissions';
import { IconPlus } from '@tabler/icons-react';
import { useMemo, useState } from 'react';
import { useAddLook, useChangeLook, useLooks, useMoveLook } from '../api/looks.ts';
import { formationPlay, plainSituation } from '../book/formation-play.ts';
import { lastRuleCode } from '../book/rule-codes.ts';
import { LoadingLines } from '../common/loading.tsx';
import { NothingHere } from '../common/nothing-here.tsx';
import { Page } from '../common/page.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { useStaff } from '../frame/use-staff.ts';
import { copyOf } from '../shelf/copy-look.ts';
import { DeleteLook } from '../shelf/delete-look.tsx';
import { DrawLook } from '../shelf/draw-look.tsx';
import { type Facing, FormationFacing, facingWords } from '../shelf/formation-facing.tsx';
import { LookCard } from '../shelf/look-card.tsx';
import { LookEditor } from '../shelf/look-editor.tsx';
import { NewLook } from '../shelf/new-look.tsx';
import classes from '../shelf/shelf.module.css';

type Editing =
  | { kind: 'none' }
  | { kind: 'new'; by: By; from: LookRecipe }
  | { kind: 'change'; by: By; look: StaffLook };

/** By its rules, or by drawing it. */
type By = 'rules' | 'hand';

/** The staff's looks, each standing against the formation that the reader picks. */
export function LookShelf() {
  const { staffId, membership } = useStaff();
  const mayEdit = may(membership.role, 'look.edit');
  const looks = useLooks(staffId);
  const add = useAddLook(staffId);
  const change = useChangeLook(staffId);
  const move = useMoveLook(staffId);
  const [said, setSaid] = useState('');
  const [facing, setFacing] = useState<Facing>({ formation: 'doubles', strength: 'right' });
  const [choosing, setChoosing] = useState(false);
  const [editing, setEditing] = useState<Editing>({ kind: 'none' });
  const [deleting, setDeleting] = useState<StaffLook | null>(null);
  const play = useMemo(
    () =>
      formationPlay(facing.formation, plainSituation(lastRuleCode(), 'middle'), facing.strength),
    [facing],
  );
  const shelf = (looks.data ?? []).toSorted((a, b) => a.order - b.order);
  const recipes = shelf.map((look) => look.recipe);
  const starts = [
    ...recipes,
    ...builtInLooks.filter((one) => recipes.every((recipe) => recipe.id !== one.id)),
  ];
  const close = () => {
    setEditing({ kind: 'none' });
    add.reset();
    change.reset();
  };
  const place = (look: StaffLook, after: StaffLook | undefined) =>
    move.mutate(
      { lookId: look.id, after: after?.id ?? null },
      {
        onSuccess: () =>
          setSaid(
            `${look.recipe.name} is now ${after ? `behind ${after.recipe.name}` : 'first on the shelf'}.`,
          ),
      },
    );
  const begin = (from: LookRecipe, by: By) => {
    setChoosing(false);
    setEditing({ kind: 'new', by, from: copyOf(from, [...recipes, ...builtInLooks]) });
  };
  const save = (recipe: LookRecipe) => {
    if (editing.kind === 'new') add.mutate(recipe, { onSuccess: close });
    if (editing.kind === 'change')
      change.mutate({ lookId: editing.look.id, recipe }, { onSuccess: close });
  };

  const edited =
    editing.kind === 'none' ? null : editing.kind === 'new' ? editing.from : editing.look.recipe;

  return (
    <Page
      title="Look shelf"
      about="Every read card is checked against each of these, aligned afresh to the play's formation."
      actions={
        mayEdit && (
          <>
            <Button
              variant="default"
              disabled={starts[0] === undefined}
              onClick={() => {
                if (starts[0]) begin(starts[0], 'hand');
              }}
            >
              Draw a look
            </Button>
            <Button
              leftSection={<IconPlus size={17} aria-hidden />}
              onClick={() => setChoosing(true)}
            >
              New look
            </Button>
          </>
        )
      }
    >
      <div className={classes.facing}>
        <FormationFacing value={facing} onChange={setFacing} />
      </div>
      <p className={classes.onPaper}>Against {facingWords(facing)}.</p>
      {looks.isPending && <LoadingLines what="the look shelf" />}
      {looks.isError && <ProblemNotice error={looks.error} onRetry={() => void looks.refetch()} />}
      {looks.isSuccess && shelf.length === 0 && (
        <NothingHere
          title="The shelf is empty"
          action={
            mayEdit && <Button onClick={() => setChoosing(true)}>Put up the first look</Button>
          }
        >
          Without a look the rule check has nothing to run the read cards against.
        </NothingHere>
      )}
      <ProblemNotice error={move.error} />
      <p role="status" className={classes.said}>
        {said}
      </p>
      <ul className={classes.looks} aria-label="Looks">
        {shelf.map((look, index) => (
          <LookCard
            key={look.id}
            look={look}
            play={play}
            mayEdit={mayEdit}
            isFirst={index === 0}
            isLast={index === shelf.length - 1}
            onDrop={(id) => {
              const dropped = shelf.find((one) => one.id === id);
              if (dropped && dropped !== look)
                place(dropped, shelf.indexOf(dropped) < index ? look : shelf[index - 1]);
            }}
            onChoose={(action) => {
              if (action === 'redraw') setEditing({ kind: 'change', by: 'hand', look });
              if (action === 'edit') setEditing({ kind: 'change', by: 'rules', look });
              if (action === 'duplicate') begin(look.recipe, 'rules');
              if (action === 'earlier') place(look, shelf[index - 2]);
              if (action === 'later') place(look, shelf[index + 1]);
              if (action === 'delete') setDeleting(look);
            }}
          />
        ))}
      </ul>
      <NewLook
        opened={choosing}
        starts={starts}
        play={play}
        onStart={(from) => begin(from, 'rules')}
        onClose={() => setChoosing(false)}
      />
      <LookEditor
        title={editing.kind === 'change' ? 'Edit look' : 'New look'}
        from={editing.kind !== 'none' && editing.by === 'rules' ? edited : null}
        play={play}
        saving={add.isPending || change.isPending}
        error={editing.kind === 'new' ? add.error : change.error}
        onSave={save}
        onClose={close}
      />
      <DrawLook
        title={editing.kind === 'change' ? 'Redraw look' : 'Draw a look'}
        from={editing.kind !== 'none' && editing.by === 'hand' ? edited : null}
        keep={editing.kind === 'change'}
        play={play}
        saving={add.isPending || change.isPending}
        error={editing.kind === 'new' ? add.error : change.error}
        onSave={save}
        onClose={close}
      />
      <DeleteLook staffId={staffId} look={deleting} onClose={() => setDeleting(null)} />
    </Page>
  );
}
