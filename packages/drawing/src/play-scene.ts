import type { Point } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import type { Play, Player } from '@stemline/football/play';
import { blockingLayer } from './blocking.ts';
import { fieldLines } from './field-lines.ts';
import {
  ballLayer,
  beforeLayer,
  defenderLayer,
  ghostLayer,
  motionLayer,
  pathLayer,
  pathNameLayer,
  playerLayer,
  reactionLayer,
  routeLayer,
} from './layers.ts';
import type { SceneOptions } from './options.ts';
import type { Scene } from './scene.ts';
import { viewOf } from './view.ts';

/** The play where its men stand on the way of a drag. */
export function withDragged<P extends Play>(play: P, dragging: ReadonlyMap<PlayerId, Point>): P {
  if (dragging.size === 0) return play;
  const at = (player: Player): Player => ({ ...player, at: dragging.get(player.id) ?? player.at });
  return { ...play, players: play.players.map(at) };
}

/** A play, and what stands against it, as primitives in yards, back to front. */
export function sceneOf(play: Play, options: SceneOptions = {}): Scene {
  const { look = null, reactions = {}, highlights = [], paths = [], key = null } = options;
  const dragging: ReadonlyMap<PlayerId, Point> = options.dragging ?? new Map();
  const now = withDragged(play, dragging);
  const view = viewOf(play, options.frame ?? 'field');
  const show = options.showReactions ?? 'all';
  return {
    view,
    groups: [
      { id: 'field', subject: { kind: 'field' }, items: fieldLines(play.situation, view) },
      ...(options.before ? beforeLayer(options.before, now) : []),
      ...ghostLayer(play, dragging),
      ...(look ? reactionLayer(look, reactions, key, show) : []),
      ...motionLayer(now, highlights),
      ...pathLayer(paths, 'quiet'),
      ...pathLayer(paths, 'plain'),
      ...routeLayer(now, highlights, {
        showBreak: options.showBreaks ?? false,
        stems: options.stems ?? [],
      }),
      ...pathLayer(paths, 'lit'),
      ...(look ? defenderLayer(look, key, highlights) : []),
      ...(options.blocks ? blockingLayer(now, look, options.blocks) : []),
      ballLayer(play),
      ...playerLayer(now, highlights),
      ...pathNameLayer(now, look, paths, { size: options.labelSize ?? 1.1, view }),
    ],
  };
}
