import type { Highlight } from '@stemline/drawing/options';
import { sceneOf } from '@stemline/drawing/play-scene';
import type { Frame } from '@stemline/drawing/view';
import type { DefenderId } from '@stemline/football/ids';
import type { Play } from '@stemline/football/play';
import { alignLook, type LookRecipe } from '@stemline/football/shelf';
import { useMemo } from 'react';
import { SceneDrawing } from '../common/scene-drawing.tsx';

/** Yards above the line of scrimmage that are drawn: past a deep safety. */
const top = 17;
/** Yards below it, unless somebody stands deeper. */
const passerDepth = 5.2;
/** Yards below the man who stands deepest. */
const margin = 1.3;

/** Yards around a look: from the man who stands deepest to past a deep safety, sideline to sideline. */
export function lookFrame(play: Play): Frame {
  const deepest = Math.max(passerDepth, ...play.players.map(({ at }) => -at[1]));
  const bottom = -(deepest + margin);
  return { left: -27.4, bottom, width: 54.8, height: top - bottom };
}

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
      frame: lookFrame(play),
      look: alignLook(recipe, play),
      showReactions: 'all',
      highlights,
    });
  }, [recipe, play, selected]);
  return <SceneDrawing scene={scene} label={`${recipe.name} against this formation`} />;
}
