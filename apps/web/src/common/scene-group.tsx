import type { Group } from '@stemline/drawing/scene';
import { shapeOf } from '@stemline/drawing/shape';
import { boardInks } from '../theme/board-inks.ts';

/** One group of a scene as SVG elements, painted with the board's inks. */
export function SceneGroup({ group }: { group: Group }) {
  return (
    <g>
      {group.items.map((item, index) => {
        const { tag: Tag, attributes, text } = shapeOf(item, boardInks);
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: the items of a group have no other identity, and keep their order
          <Tag key={index} {...attributes}>
            {text}
          </Tag>
        );
      })}
    </g>
  );
}
