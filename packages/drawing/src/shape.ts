import type { Point } from '@stemline/football/geometry';
import type { Primitive, Step, View } from './scene.ts';
import { type Inks, paints } from './theme.ts';

/** Drawing units in one yard: the one place where yards become anything else. */
export const unitsPerYard = 10;

const round = (value: number): number => Math.round(value * 100) / 100 || 0;
/** A spot of the field in drawing units; the page's y grows down, the field's up. */
export const toUnits = ([x, y]: Point): Point => [
  round(x * unitsPerYard),
  round(-y * unitsPerYard),
];
export const yards = (length: number): number => round(length * unitsPerYard);

export const viewBox = (view: View): string => {
  const [x, y] = toUnits([view.left, view.bottom + view.height]);
  return `${x} ${y} ${yards(view.width)} ${yards(view.height)}`;
};

/** An SVG element as data, so that a file and a screen cannot differ. Names as React spells them. */
export interface Shape {
  tag: 'rect' | 'path' | 'polygon' | 'circle' | 'ellipse' | 'text';
  attributes: Readonly<Record<string, string | number>>;
  text: string | null;
}

const at = (point: Point): string => toUnits(point).join(' ');
const stroke = (step: Step): string =>
  'bend' in step ? `Q${at(step.bend)} ${at(step.to)}` : `L${at(step.to)}`;

function paintOf(item: Primitive, inks: Inks): Record<string, string | number> {
  const paint = paints[item.role];
  const out: Record<string, string | number> = { fill: paint.fill ? inks[paint.fill] : 'none' };
  if (paint.stroke) {
    out.stroke = inks[paint.stroke];
    out.strokeWidth = yards(paint.width ?? 0.1);
    out.strokeLinejoin = 'round';
    out.strokeLinecap = 'round';
    if (paint.dash) out.strokeDasharray = paint.dash.map(yards).join(' ');
  }
  if (paint.rim) {
    out.stroke = inks[paint.rim];
    out.strokeWidth = yards(0.4);
    out.strokeLinejoin = 'round';
    out.paintOrder = 'stroke';
  }
  if (paint.opacity !== undefined) out.opacity = paint.opacity;
  return out;
}

export function shapeOf(item: Primitive, inks: Inks): Shape {
  const paint = paintOf(item, inks);
  switch (item.kind) {
    case 'rect': {
      const [x, y] = toUnits([item.view.left, item.view.bottom + item.view.height]);
      const size = { width: yards(item.view.width), height: yards(item.view.height) };
      return { tag: 'rect', attributes: { x, y, ...size, ...paint }, text: null };
    }
    case 'marks': {
      const d = item.marks.map(([a, b]) => `M${at(a)}L${at(b)}`).join('');
      return { tag: 'path', attributes: { d, ...paint }, text: null };
    }
    case 'path': {
      const d = `M${at(item.from)}${item.steps.map(stroke).join('')}`;
      return { tag: 'path', attributes: { d, ...paint }, text: null };
    }
    case 'polygon':
      return {
        tag: 'polygon',
        attributes: { points: item.points.map(at).join(' '), ...paint },
        text: null,
      };
    case 'circle': {
      const [cx, cy] = toUnits(item.at);
      return { tag: 'circle', attributes: { cx, cy, r: yards(item.radius), ...paint }, text: null };
    }
    case 'square': {
      const [x, y] = toUnits([item.at[0] - item.half, item.at[1] + item.half]);
      const side = yards(item.half * 2);
      return {
        tag: 'rect',
        attributes: { x, y, width: side, height: side, rx: yards(0.12), ...paint },
        text: null,
      };
    }
    case 'ellipse': {
      const [cx, cy] = toUnits(item.at);
      const radii = { rx: yards(item.rx), ry: yards(item.ry) };
      return { tag: 'ellipse', attributes: { cx, cy, ...radii, ...paint }, text: null };
    }
    case 'text': {
      const [x, y] = toUnits(item.at);
      return {
        tag: 'text',
        attributes: {
          x,
          y,
          fontSize: yards(item.size),
          fontWeight: paints[item.role].weight ?? 400,
          textAnchor: item.anchor,
          dominantBaseline: 'central',
          ...(item.turn === 0 ? {} : { transform: `rotate(${item.turn} ${x} ${y})` }),
          ...paint,
        },
        text: item.text,
      };
    }
  }
}
