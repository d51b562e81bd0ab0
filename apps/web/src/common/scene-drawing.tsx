import type { Scene } from '@stemline/drawing/scene';
import { shapeOf, viewBox } from '@stemline/drawing/shape';
import { boardInks } from '../theme/board-inks.ts';

/** A scene that is only looked at: thumbnails of formations and looks. Without a label it is decorative. */
export function SceneDrawing({
  scene,
  label,
  className,
}: {
  scene: Scene;
  label?: string;
  className?: string;
}) {
  return (
    <svg
      viewBox={viewBox(scene.view)}
      className={className}
      style={{ display: 'block', width: '100%' }}
      role="img"
      aria-label={label}
      aria-hidden={label === undefined}
    >
      {scene.groups.map((group) => (
        <g key={group.id}>
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
      ))}
    </svg>
  );
}
