import type { View } from '@stemline/drawing/scene';
import { unitsPerYard } from '@stemline/drawing/shape';
import type { Point } from '@stemline/football/geometry';

/** The view grown to the shape of its window, so that nothing is wasted: downfield first, then to both sides. */
export function filled(view: View, window: { width: number; height: number }): View {
  if (window.width <= 0 || window.height <= 0) return view;
  const aspect = window.width / window.height;
  if (view.width / view.height >= aspect) return { ...view, height: view.width / aspect };
  const width = view.height * aspect;
  return { ...view, left: view.left - (width - view.width) / 2, width };
}

/** A spot on the screen as a spot of the field. `box` is the drawing's place on the screen, CSS pixels. */
export function fieldSpot(
  client: { x: number; y: number },
  box: { left: number; top: number; width: number; height: number },
  view: View,
): Point {
  return [
    view.left + ((client.x - box.left) / box.width) * view.width,
    view.bottom + view.height - ((client.y - box.top) / box.height) * view.height,
  ];
}

/** Drawing units that come out as `px` CSS pixels on a drawing this wide. */
export const unitsFor = (px: number, view: View, widthPx: number): number =>
  widthPx <= 0 ? px : (px * view.width * unitsPerYard) / widthPx;
