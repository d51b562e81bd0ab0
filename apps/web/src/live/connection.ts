import type { Refused } from '@stemline/protocol/message';

/** Whether a coach's edits are safe, as the screen says it. */
export type Connection =
  /** `kept`: the browser's own store holds all that is unsaved, so that the page may be closed. */
  | { kind: 'connecting'; unsaved: number; kept: boolean }
  | { kind: 'saved' }
  /** `behind`: the room's store cannot be reached; it keeps trying. */
  | { kind: 'saving'; unsaved: number; behind: boolean }
  | { kind: 'offline'; unsaved: number; kept: boolean }
  /** `work`: what the refused edits would have changed, in words; null until it has been compared. */
  | { kind: 'refused'; refused: Refused; work: readonly string[] | null }
  | { kind: 'closed'; code: number; unsaved: number };

/** What the connection is made of; `connectionOf` says which of it matters most. */
export interface ConnectionModel {
  link: 'opening' | 'synced' | 'down';
  /** The room has been in step with this page at least once. */
  met: boolean;
  unsaved: number;
  kept: boolean;
  behind: boolean;
  refused: { refused: Refused; work: readonly string[] | null } | null;
  /** Close code of a room that does not want this page back; null while it does. */
  closed: number | null;
}

export type Happening =
  | { type: 'opening' }
  | { type: 'synced' }
  | { type: 'down' }
  | { type: 'closed'; code: number }
  | { type: 'unsaved'; count: number }
  | { type: 'kept'; kept: boolean }
  | { type: 'behind'; behind: boolean }
  | { type: 'refused'; refused: Refused }
  | { type: 'compared'; work: readonly string[] }
  | { type: 'dismissed' };

export const atFirst: ConnectionModel = {
  link: 'opening',
  met: false,
  unsaved: 0,
  kept: true,
  behind: false,
  refused: null,
  closed: null,
};

export function step(model: ConnectionModel, happening: Happening): ConnectionModel {
  switch (happening.type) {
    case 'opening':
      return { ...model, link: model.link === 'synced' ? 'synced' : 'opening', closed: null };
    case 'synced':
      return { ...model, link: 'synced', met: true, closed: null };
    case 'down':
      return { ...model, link: 'down', behind: false };
    case 'closed':
      return { ...model, link: 'down', closed: happening.code };
    case 'unsaved':
      return model.unsaved === happening.count ? model : { ...model, unsaved: happening.count };
    case 'kept':
      return model.kept === happening.kept ? model : { ...model, kept: happening.kept };
    case 'behind':
      return { ...model, behind: happening.behind };
    case 'refused':
      // The refused edits are set aside with their document: what follows starts with nothing unsaved.
      return {
        ...model,
        link: 'down',
        unsaved: 0,
        kept: true,
        closed: null,
        refused: { refused: happening.refused, work: null },
      };
    case 'compared':
      return model.refused
        ? { ...model, refused: { refused: model.refused.refused, work: happening.work } }
        : model;
    case 'dismissed':
      return { ...model, refused: null };
  }
}

/** A refusal outranks all else until it has been read; a room that is gone for good outranks a network that is not there. */
export function connectionOf(model: ConnectionModel): Connection {
  const { unsaved, kept } = model;
  if (model.refused) return { kind: 'refused', ...model.refused };
  if (model.closed !== null) return { kind: 'closed', code: model.closed, unsaved };
  if (model.link === 'synced')
    return unsaved === 0 ? { kind: 'saved' } : { kind: 'saving', unsaved, behind: model.behind };
  if (model.met || model.link === 'down') return { kind: 'offline', unsaved, kept };
  return { kind: 'connecting', unsaved, kept };
}

/** Edits that only this browser holds; leaving now would put them at risk. */
export const unsavedOf = (connection: Connection): number =>
  'unsaved' in connection ? connection.unsaved : 0;
