import type { Highlight } from '@stemline/drawing/options';
import { sceneOf } from '@stemline/drawing/play-scene';
import type { DefenderId } from '@stemline/football/ids';
import type { Play } from '@stemline/football/play';
import { alignLook, type LookRecipe } from '@stemline/football/shelf';
import { useMemo } from 'react';
import { SceneDrawing } from '../common/scene-drawing.tsx';

/** Yards around a look: from the passer to past a deep safety, sideline to sideline. */
export const frame = { left: -27.4, bottom: -6.5, width: 54.8, height: 23.5 };

/** A look as it stands against one formation, with what each defender does first. */
export function LookDrawing(props: {
  recipe: LookRecipe;
  play: Play;
  selected?: DefenderId | null;
}) {
  const { recipe, play, selected = null } = props;
  const scene = useMemo(() => {
    const highlights: Highlight[] =
      selected === null ? [] : [{ kind: 'defender', defender: selected, tone: 'selected' }];
    return sceneOf(play, {
      frame,
      look: alignLook(recipe, play),
      showReactions: 'all',
      highlights,
    });
  }, [recipe, play, selected]);
  return <SceneDrawing scene={scene} label={`${recipe.name} against this formation`} />;
}
