import { Button } from '@mantine/core';
import { builtInLooks, type LookRecipe } from '@stemline/football/shelf';
import type { StaffLook } from '@stemline/protocol/api/looks';
import { may } from '@stemline/protocol/permissions';
import { IconPlus } from '@tabler/icons-react';
import { useMemo, useState } from 'react';
import { useAddLook, useChangeLook, useLooks } from '../api/looks.ts';
import { formationPlay, plainSituation } from '../book/formation-play.ts';
import { lastRuleCode } from '../book/rule-codes.ts';
import { LoadingLines } from '../common/loading.tsx';
import { NothingHere } from '../common/nothing-here.tsx';
import { Page } from '../common/page.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { useStaff } from '../frame/use-staff.ts';
import { copyOf } from '../shelf/copy-look.ts';
import { DeleteLook } from '../shelf/delete-look.tsx';
import { type Facing, FormationFacing } from '../shelf/formation-facing.tsx';
import { LookCard } from '../shelf/look-card.tsx';
import { LookEditor } from '../shelf/look-editor.tsx';
import { NewLook } from '../shelf/new-look.tsx';
import classes from '../shelf/shelf.module.css';

type Editing =
  | { kind: 'none' }
  | { kind: 'new'; from: LookRecipe }
  | { kind: 'change'; look: StaffLook };

/** The staff's looks, each standing against the formation that the reader picks. */
export function LookShelf() {
  const { staffId, membership } = useStaff();
  const mayEdit = may(membership.role, 'look.edit');
  const looks = useLooks(staffId);
  const add = useAddLook(staffId);
  const change = useChangeLook(staffId);
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
  const close = () => setEditing({ kind: 'none' });
  const begin = (from: LookRecipe) => {
    setChoosing(false);
    setEditing({ kind: 'new', from: copyOf(from, [...recipes, ...builtInLooks]) });
  };
  const save = (recipe: LookRecipe) => {
    if (editing.kind === 'new') add.mutate(recipe, { onSuccess: close });
    if (editing.kind === 'change')
      change.mutate({ lookId: editing.look.id, recipe }, { onSuccess: close });
  };

  return (
    <Page
      title="Look shelf"
      about="Every read card is checked against each of these, aligned afresh to the play's formation."
      actions={
        mayEdit && (
          <Button
            leftSection={<IconPlus size={17} aria-hidden />}
            onClick={() => setChoosing(true)}
          >
            New look
          </Button>
        )
      }
    >
      <div style={{ marginBottom: '1rem' }}>
        <FormationFacing value={facing} onChange={setFacing} />
      </div>
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
      <ul className={classes.looks} aria-label="Looks">
        {shelf.map((look) => (
          <LookCard
            key={look.id}
            look={look}
            play={play}
            mayEdit={mayEdit}
            onChoose={(action) => {
              if (action === 'edit') setEditing({ kind: 'change', look });
              if (action === 'duplicate') begin(look.recipe);
              if (action === 'delete') setDeleting(look);
            }}
          />
        ))}
      </ul>
      <NewLook
        opened={choosing}
        starts={starts}
        play={play}
        onStart={begin}
        onClose={() => setChoosing(false)}
      />
      <LookEditor
        title={editing.kind === 'change' ? 'Edit look' : 'New look'}
        from={
          editing.kind === 'none'
            ? null
            : editing.kind === 'new'
              ? editing.from
              : editing.look.recipe
        }
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
