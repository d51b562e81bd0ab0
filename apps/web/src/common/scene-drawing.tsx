import type { Scene } from '@stemline/drawing/scene';
import { viewBox } from '@stemline/drawing/shape';
import { SceneGroup } from './scene-group.tsx';

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
        <SceneGroup key={group.id} group={group} />
      ))}
    </svg>
  );
}
