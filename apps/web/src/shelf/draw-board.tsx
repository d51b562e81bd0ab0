import type { Highlight } from '@stemline/drawing/options';
import { sceneOf } from '@stemline/drawing/play-scene';
import { unitsPerYard, viewBox } from '@stemline/drawing/shape';
import { ballX } from '@stemline/football/field';
import type { Point } from '@stemline/football/geometry';
import type { DefenderId } from '@stemline/football/ids';
import type { AlignedLook } from '@stemline/football/look';
import type { Play } from '@stemline/football/play';
import { type KeyboardEvent, type PointerEvent, useMemo, useRef, useState } from 'react';
import { SceneGroup } from '../common/scene-group.tsx';
import { type Drawing, type DrawnMan, placeWords, tidySpot } from './drawn.ts';
import { lookFrame } from './look-drawing.tsx';
import { levelWords } from './rule-words.ts';
import classes from './shelf.module.css';

const arrows: Readonly<Record<string, Point>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/** The men of a look to be put in their places, by hand or by arrow keys. */
export function DrawBoard(props: {
  drawing: Drawing;
  look: AlignedLook;
  play: Play;
  selected: DefenderId | null;
  onSelect: (man: DefenderId) => void;
  onPlace: (man: DefenderId, at: Point) => void;
  onRemove: (man: DefenderId) => void;
}) {
  const { drawing, look, play, selected } = props;
  const svg = useRef<SVGSVGElement>(null);
  const [drag, setDrag] = useState<{ man: DefenderId; at: Point; grip: Point } | null>(null);
  const ball = ballX(play.situation);
  const men = useMemo(
    () => drawing.men.map((man) => (man.id === drag?.man ? { ...man, at: drag.at } : man)),
    [drawing.men, drag],
  );
  const scene = useMemo(() => {
    const highlights: Highlight[] = selected
      ? [{ kind: 'defender', defender: selected, tone: 'selected' }]
      : [];
    const defenders = men.map((man) => ({
      ...man,
      reactions: look.defenders.find(({ id }) => id === man.id)?.reactions ?? [],
    }));
    return sceneOf(play, {
      frame: lookFrame(play),
      look: { ...look, defenders },
      showReactions: 'all',
      highlights,
    });
  }, [men, look, play, selected]);

  const spotOf = (event: PointerEvent): Point | null => {
    const matrix = svg.current?.getScreenCTM();
    if (!matrix) return null;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    return [at.x / unitsPerYard, -at.y / unitsPerYard];
  };
  const grab = (event: PointerEvent, man: DrawnMan): void => {
    const spot = spotOf(event);
    if (!spot || event.button !== 0) return;
    props.onSelect(man.id);
    event.currentTarget.setPointerCapture(event.pointerId);
    setDrag({ man: man.id, at: man.at, grip: [man.at[0] - spot[0], man.at[1] - spot[1]] });
  };
  const pull = (event: PointerEvent): void => {
    const spot = drag && spotOf(event);
    if (spot) setDrag({ ...drag, at: tidySpot([spot[0] + drag.grip[0], spot[1] + drag.grip[1]]) });
  };
  const drop = (): void => {
    const from = drag && drawing.men.find(({ id }) => id === drag.man)?.at;
    if (drag && from && (from[0] !== drag.at[0] || from[1] !== drag.at[1]))
      props.onPlace(drag.man, drag.at);
    setDrag(null);
  };
  const onKeyDown = (event: KeyboardEvent, man: DrawnMan): void => {
    const way = arrows[event.key];
    if (event.key === 'Delete' || event.key === 'Backspace') {
      event.preventDefault();
      props.onRemove(man.id);
    }
    if (!way) return;
    event.preventDefault();
    const step = event.shiftKey ? 1 : event.altKey ? 0.1 : 0.5;
    props.onPlace(man.id, tidySpot([man.at[0] + way[0] * step, man.at[1] + way[1] * step]));
  };
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset cannot be a drawing; its buttons are inside
    <svg
      ref={svg}
      viewBox={viewBox(scene.view)}
      className={classes.drawBoard}
      role="group"
      aria-label="The look, drawn"
    >
      <g aria-hidden>
        {scene.groups.map((group) => (
          <SceneGroup key={group.id} group={group} />
        ))}
      </g>
      {men.map((man) => (
        // biome-ignore lint/a11y/useSemanticElements: a button of HTML cannot stand in a drawing
        <circle
          key={man.id}
          className={classes.handle}
          cx={man.at[0] * unitsPerYard}
          cy={-man.at[1] * unitsPerYard}
          r={1.15 * unitsPerYard}
          role="button"
          tabIndex={0}
          aria-pressed={man.id === selected}
          aria-label={`${man.label}, ${levelWords[man.level].toLowerCase()}, ${placeWords(man.at, ball)}`}
          onFocus={() => props.onSelect(man.id)}
          onKeyDown={(event) => onKeyDown(event, man)}
          onPointerDown={(event) => grab(event, man)}
          onPointerMove={pull}
          onPointerUp={drop}
          onPointerCancel={() => setDrag(null)}
        />
      ))}
    </svg>
  );
}
