import type { Scene } from './scene.ts';
import { type Shape, shapeOf, viewBox, yards } from './shape.ts';
import { type Inks, printInks } from './theme.ts';

const entities: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};
// Control characters and lone surrogates make a file that no XML reader opens.
const escapeXml = (text: string): string =>
  text
    .replace(/\p{Surrogate}/gu, '\ufffd')
    // biome-ignore lint/suspicious/noControlCharactersInRegex: XML 1.0 forbids exactly these.
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '\ufffd')
    .replace(/[&<>"']/g, (sign) => entities[sign] ?? sign);

// viewBox is the one SVG name here that keeps its capital.
const spell = (name: string): string => name.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`);

function element(shape: Shape): string {
  const attributes = Object.entries(shape.attributes)
    .map(([name, value]) => ` ${spell(name)}="${escapeXml(String(value))}"`)
    .join('');
  return shape.text === null
    ? `<${shape.tag}${attributes}/>`
    : `<${shape.tag}${attributes}>${escapeXml(shape.text)}</${shape.tag}>`;
}

export interface SvgOptions {
  theme?: Inks;
  /** Read out by screen readers and shown by file managers. */
  title?: string;
}

/** A complete SVG file of the scene, ten units a yard, for files and print. */
export function sceneToSvg(scene: Scene, { theme = printInks, title }: SvgOptions = {}): string {
  const groups = scene.groups.map(
    (group) =>
      `<g id="${escapeXml(group.id)}">${group.items.map((item) => element(shapeOf(item, theme))).join('')}</g>`,
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${viewBox(scene.view)}" width="${yards(scene.view.width)}" height="${yards(scene.view.height)}" font-family="system-ui, sans-serif" role="img">`,
    title === undefined ? '' : `<title>${escapeXml(title)}</title>`,
    ...groups,
    '</svg>',
  ].join('');
}
